import { mean } from '../chance/law.ts'
import type { BatchPlan } from '../plan/plan.ts'
import { Boats } from './boats.ts'
import type { Departures } from './departures.ts'
import { drawer } from './draw.ts'
import { fill, sift, unload } from './load-flow.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import { START } from './start.ts'
import type { Seat } from './station.ts'
import { ToolQueue } from './tool-queue.ts'
import { ToolStation } from './tool-station.ts'

const { BLOCKED, DUMMIES, IDEAL_TIME, PRODUCTIVE, STARTS } = Books
const { DONE, DOWN, FULL, IDLE, LOADING, UNLOADING, WATCHED } = Phases

/**
 * The way of a load through the tubes of a batch station: taken in, worked on, settled
 * wafer by wafer, taken out. Several tubes share the loader of their tool, which unloads
 * before it loads.
 *
 * Wafers go out one by one as places become free; until the last is out the tube, and a
 * loader that takes time, are held. A calendar stop that falls into loading, waiting for
 * the loader or unloading strikes right after it.
 */
export abstract class Loads extends ToolStation {
  protected readonly loads: Int32Array[]
  protected readonly size: Int32Array
  /** Process time of each tube's next load, drawn ahead: what goes back cannot do so earlier. */
  protected readonly nextWork: Float64Array
  private readonly drawTime: (() => number)[] = []
  private readonly drawLoading: (() => number)[] = []
  private readonly drawUnloading: (() => number)[] = []
  /** Tube the loader of each tool works for; -1: free. */
  protected readonly loaderHolds: Int16Array
  private readonly toUnload: ToolQueue[]
  private readonly hasLoader: boolean
  private readonly idealPerWafer: number
  /** Boats of each tool, and the boat that each tube's load is in; none when boats are never short. */
  protected readonly boats: Boats[]
  private readonly boatOf: Int16Array
  /** `in turn`: tube that each loader served last. */
  private readonly lastServed: Int16Array
  /** With a cap: what has left again of what it counts, and wafers that may be loaded before more must leave. */
  departures: Departures | undefined
  protected allowed: number
  /** A tube may hand over wafers ahead up to, not including, this tick; 0: those of one act only. */
  protected runsTo = START

  constructor(
    override readonly plan: BatchPlan,
    seat: Seat,
  ) {
    super(plan, seat)
    const { key } = seat
    const handling = mean(plan.loading) + mean(plan.unloading)
    this.hasLoader = handling > 0
    this.idealPerWafer = (mean(plan.time) + handling) / plan.load
    this.loads = Array.from({ length: plan.tools }, () => new Int32Array(plan.load))
    this.size = new Int32Array(plan.tools)
    this.nextWork = new Float64Array(plan.tools)
    const loaders = plan.tools / plan.tubesPerTool
    this.loaderHolds = new Int16Array(loaders).fill(-1)
    this.toUnload = Array.from({ length: loaders }, () => new ToolQueue(plan.tools))
    const { boats } = plan
    this.boats = boats
      ? Array.from({ length: loaders }, (_, i) => new Boats(boats, `${plan.name}/tool ${i + 1}`, key))
      : []
    this.boatOf = new Int16Array(plan.tools).fill(-1)
    this.lastServed = new Int16Array(loaders).fill(-1)
    this.allowed = plan.cap?.wafers ?? Infinity
    for (let t = 0; t < plan.tools; t++) {
      const tool = `tool ${t + 1}`
      this.drawTime.push(drawer(plan.time, key, 1, plan.name, tool, 'time'))
      this.drawLoading.push(drawer(plan.loading, key, 0, plan.name, tool, 'loading'))
      this.drawUnloading.push(drawer(plan.unloading, key, 0, plan.name, tool, 'unloading'))
      this.nextWork[t] = this.drawTime[t]()
    }
  }

  override open(): void {
    super.open()
    for (let t = 0; t < this.tools; t++) this.becomeIdle(t, 0)
  }

  protected toolOf(tube: number): number {
    return Math.floor(tube / this.plan.tubesPerTool)
  }

  // ---- a load's way ------------------------------------------------------------

  /** Takes a load of wafers that became ready before `readyBefore`; if the first of them are late, they go, and nothing is loaded yet. */
  protected startLoad(tube: number, time: number, readyBefore: number): void {
    const { input } = this
    const { load, timeLimits } = this.plan
    input.supply(this.wafers, load)
    if (timeLimits.length > 0 && this.sendLateAway(time, readyBefore)) return
    this.idle.remove(tube)
    this.enter(tube, PRODUCTIVE, time)
    const size = this.takeLoad(this.loads[tube], time, readyBefore)
    this.size[tube] = size
    this.allowed -= size
    if (this.plan.cap) this.countIn(this.plan.cap.column, this.loads[tube], size)
    if (size === 0) {
      this.becomeIdle(tube, time)
      return
    }
    this.lastServed[this.toolOf(tube)] = tube
    if (this.boats.length > 0) this.boatOf[tube] = this.boats[this.toolOf(tube)].take()
    this.meter.counter[STARTS] += size
    if (this.plan.dummyRuns !== undefined) this.meter.counter[DUMMIES] += load - size
    const loading = this.drawLoading[tube]()
    if (loading === 0) this.startWork(tube, time)
    else this.handle(tube, LOADING, time, loading)
  }

  /** Fills a load with wafers that became ready before `readyBefore`, but for those that are late. @returns wafers in it */
  private takeLoad(load: Int32Array, time: number, readyBefore: number): number {
    const { input, plan } = this
    let taken = 0
    if (!input.lifo) {
      taken = fill(load, input, readyBefore, time, this.wafers, this.meter)
      if (this.takenDepart) for (let w = 0; w < taken; w++) this.departTaken(load[w], time)
    } else
      while (taken < plan.load && input.waiting > 0 && input.ready[input.head] < readyBefore)
        load[taken++] = this.takeOldest(time)
    if (!this.anyLate(load, taken, time)) return taken
    let size = 0
    for (let n = 0; n < taken; n++) if (this.admits(load[n], time)) load[size++] = load[n]
    return size
  }

  private takeOldest(time: number): number {
    const wafer = this.takeFrom(this.input, time)
    this.countTaken(wafer, time)
    return wafer
  }

  /** Late wafers at the head of the queue do not count for a load. @returns whether there were any */
  private sendLateAway(time: number, readyBefore: number): boolean {
    const { input } = this
    let away = 0
    for (; away < this.plan.load && input.waiting > 0 && input.ready[input.head] < readyBefore; away++) {
      if (!this.tooLate(input.wafer[input.head], time)) break
      this.admits(this.takeOldest(time), time)
    }
    return away > 0
  }

  private giveBoatBack(tube: number, time: number): void {
    if (this.boatOf[tube] < 0) return
    this.boats[this.toolOf(tube)].giveBack(this.boatOf[tube], time)
    this.boatOf[tube] = -1
  }

  /** The loader works for the tube. */
  private handle(tube: number, phase: number, time: number, lasts: number): void {
    this.loaderHolds[this.toolOf(tube)] = tube
    this.phase[tube] = phase
    this.at[tube] = time + lasts
  }

  private startWork(tube: number, time: number): void {
    this.work[tube] = this.nextWork[tube]
    this.nextWork[tube] = this.drawTime[tube]()
    this.begin(tube, time, this.work[tube])
  }

  protected event(tube: number, time: number): void {
    const phase = this.phase[tube]
    if (phase === DOWN) this.comeUp(tube, time)
    else if (phase === LOADING) {
      this.freeLoader(tube, time)
      this.startWork(tube, time)
    } else if (phase === UNLOADING) this.waitForRoom(tube, time)
    else if (phase === IDLE || phase === FULL) this.strike(tube, time)
    else if (phase === WATCHED && !this.watchedEnds(tube, time)) this.strike(tube, time)
    else this.endWork(tube, time)
  }

  private endWork(tube: number, time: number): void {
    const size = this.size[tube]
    this.meter.counter[IDEAL_TIME] += size * this.idealPerWafer
    const { kept, clearing } = sift(this.outcome, tube, this.loads[tube], size, time)
    this.size[tube] = kept
    this.treatment?.wear(tube, size - kept)
    this.outcome.endLoad(tube, time)
    if (kept === 0) {
      this.giveBoatBack(tube, time)
      if (clearing > 0) this.clear(tube, time, clearing)
      else this.becomeIdle(tube, time)
      return
    }
    this.enter(tube, BLOCKED, time)
    this.phase[tube] = DONE
    this.at[tube] = Infinity
    if (clearing > 0) this.clear(tube, time, clearing)
    else this.askUnloading(tube, time)
  }

  private askUnloading(tube: number, time: number): void {
    this.phase[tube] = DONE
    this.at[tube] = Infinity
    this.toUnload[this.toolOf(tube)].add(tube)
    this.serve(this.toolOf(tube), time)
  }

  /** A free loader takes out the load that has been done longest. */
  private serve(tool: number, time: number): void {
    if (this.loaderHolds[tool] >= 0 || this.toUnload[tool].count === 0) return
    const tube = this.nextToUnload(tool)
    this.lastServed[tool] = tube
    const lasts = this.drawUnloading[tube]()
    if (this.hasLoader) this.loaderHolds[tool] = tube
    if (lasts === 0) this.waitForRoom(tube, time)
    else {
      this.enter(tube, PRODUCTIVE, time)
      this.handle(tube, UNLOADING, time, lasts)
    }
  }

  private nextToUnload(tool: number): number {
    const queue = this.toUnload[tool]
    let best = queue.first()
    for (let place = 1; place < queue.count; place++)
      if (this.servesBefore(queue.at(place), best, tool)) best = queue.at(place)
    queue.remove(best)
    return best
  }

  /** Whether the loader of the tool serves tube `a` before tube `b`, which waits longer. */
  protected servesBefore(a: number, b: number, tool: number): boolean {
    const { serves, tubesPerTool } = this.plan
    if (serves === 'longest waiting') return false
    if (serves === 'lowest number') return a < b
    const turn = (tube: number) => (tube - this.lastServed[tool] - 1 + 2 * tubesPerTool) % tubesPerTool
    return turn(a) < turn(b)
  }

  private freeLoader(tube: number, time: number): void {
    const tool = this.toolOf(tube)
    if (this.loaderHolds[tool] !== tube) return
    this.loaderHolds[tool] = -1
    this.serve(tool, time)
  }

  /** Hands over what finds a place at `from`, in the order of loading, and what `unload` may hand over ahead. */
  protected emit(tube: number, from: number): void {
    const load = this.loads[tube]
    const size = this.size[tube]
    const before = Math.min(this.runsTo, this.meter.nextEdge)
    const out = this.exit ? size : unload(this, tube, load, size, this.output, this.inputs.length, before)
    if (this.exit) for (let w = 0; w < size; w++) this.letOut(tube, load[w], from)
    load.copyWithin(0, out, size)
    this.size[tube] = size - out
    if (out < size) return
    this.full.remove(tube)
    this.giveBoatBack(tube, this.now)
    this.becomeIdle(tube, this.now)
    this.freeLoader(tube, this.now)
  }

  private letOut(tube: number, wafer: number, time: number): void {
    const ended = this.finish[tube]
    this.treatment?.apply(tube, wafer, ended, time - ended)
    this.leave(wafer, time)
  }

  abstract quietUntil(): number

  protected goIdle(tube: number, time: number): void {
    this.becomeIdle(tube, time)
  }

  protected override goOnAs(phase: number, tube: number, time: number): void {
    if (phase === DONE) this.askUnloading(tube, time)
    else super.goOnAs(phase, tube, time)
  }

  protected loseInside(tube: number, stop: number, most: number, time: number): number {
    const size = this.size[tube]
    const lost = Math.min(most, size)
    for (let w = size - lost; w < size; w++) this.removeWafer(this.loads[tube][w], time)
    this.size[tube] = size - lost
    this.bookLoss(stop, lost)
    if (size - lost > 0) return this.heldPhase[tube]
    this.giveBoatBack(tube, time)
    return IDLE
  }

  inside(): number[] {
    return this.loads.flatMap((load, tube) => [...load.subarray(0, this.size[tube])])
  }
}
