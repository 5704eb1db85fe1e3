import { mean } from '../chance/law.ts'
import type { BatchPlan, Plan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import { drawer, type RunKey } from './draw.ts'
import { BLOCKED, ENDED, IDEAL_TIME, type Meter, PRODUCTIVE, STARTS } from './meter.ts'
import { GONE } from './outcome.ts'
import { ToolQueue } from './tool-queue.ts'
import { DOWN, FULL, IDLE, ToolStation, WATCHED } from './tool-station.ts'
import type { Wafers } from './wafers.ts'

/** Phases beyond those of every tool: the loader brings the load in; done, waiting for the loader; the loader takes it out. */
const LOADING = 5
const DONE = 6
const UNLOADING = 7

/** The acts, in their order at equal times. */
const PUT = 0
const EVENT = 1
const LOAD = 2

/**
 * Batch tools: tubes, several behind one loader per tool, all before one input. Acts at
 * equal times: a tube hands wafers over; tube events, lower tube first; a tube is loaded,
 * the one that has been idle longest first. A loader unloads before it loads.
 *
 * A full load starts when its last wafer is there. A short load (at least `least`) starts
 * when its `least`-th wafer has waited `longestWait`, half a tick later: so everything
 * that arrives in the same tick is taken along, whoever acts first in it. It takes what
 * became ready before its start.
 *
 * Wafers go out one by one as places become free; until the last is out the tube, and a
 * loader that takes time, are held. A calendar stop that falls into loading, waiting for
 * the loader or unloading strikes right after it.
 */
export class BatchStation extends ToolStation {
  private readonly input: Channel
  private readonly output: Channel | undefined
  private readonly loads: Int32Array[]
  private readonly size: Int32Array
  private readonly drawTime: (() => number)[] = []
  private readonly drawLoading: (() => number)[] = []
  private readonly drawUnloading: (() => number)[] = []
  /** Tube the loader of each tool works for; -1: free. */
  private readonly loaderHolds: Int16Array
  private readonly toUnload: ToolQueue[]
  private readonly hasLoader: boolean
  private readonly idealPerWafer: number
  private act = EVENT
  private tube = 0
  private needsRoom = false
  private needsWafer = false

  constructor(
    override readonly plan: BatchPlan,
    position: number,
    inputs: readonly Channel[],
    outputs: readonly Channel[],
    meter: Meter,
    wafers: Wafers,
    key: RunKey,
    bins: Plan['bins'],
  ) {
    super(plan, position, inputs, outputs, meter, wafers, key, bins)
    this.input = inputs[0]
    this.output = this.exit ? undefined : outputs[0]
    const handling = mean(plan.loading) + mean(plan.unloading)
    this.hasLoader = handling > 0
    this.idealPerWafer = (mean(plan.time) + handling) / plan.load
    this.loads = Array.from({ length: plan.tools }, () => new Int32Array(plan.load))
    this.size = new Int32Array(plan.tools)
    const loaders = plan.tools / plan.tubesPerTool
    this.loaderHolds = new Int16Array(loaders).fill(-1)
    this.toUnload = Array.from({ length: loaders }, () => new ToolQueue(plan.tools))
    for (let t = 0; t < plan.tools; t++) {
      const tool = `tool ${t + 1}`
      this.drawTime.push(drawer(plan.time, key, 1, plan.name, tool, 'time'))
      this.drawLoading.push(drawer(plan.loading, key, 0, plan.name, tool, 'loading'))
      this.drawUnloading.push(drawer(plan.unloading, key, 0, plan.name, tool, 'unloading'))
      this.becomeIdle(t, 0)
    }
  }

  // ---- the next act ------------------------------------------------------------

  private find(): number {
    this.needsRoom = this.needsWafer = false
    let time = Infinity
    this.act = EVENT
    for (let t = 0; t < this.tools; t++)
      if (this.at[t] < time) {
        time = this.at[t]
        this.tube = t
      }
    if (this.full.count > 0) {
      const place = this.exit ? this.now : (this.output as Channel).roomAt(this.now)
      if (place === Infinity) this.needsRoom = true
      else if (place <= time) {
        time = place
        this.tube = this.full.first()
        this.act = PUT
      }
    }
    return this.findLoad(time)
  }

  private findLoad(before: number): number {
    const tube = this.nextToLoad()
    if (tube < 0) return before
    const ready = this.loadReady()
    if (ready >= before) return before
    this.act = LOAD
    this.tube = tube
    return ready
  }

  /** The tube idle longest whose loader is free; -1: none. */
  private nextToLoad(): number {
    for (let place = 0; place < this.idle.count; place++) {
      const tube = this.idle.at(place)
      if (this.loaderHolds[this.toolOf(tube)] < 0) return tube
    }
    return -1
  }

  /** When the recorded wafers make a load. */
  private loadReady(): number {
    const { input, now } = this
    const { load } = this.plan
    if (input.endless) return now
    const full = input.waiting >= load ? Math.max(now, this.readyOf(load)) : Infinity
    if (full === Infinity) this.needsWafer = true
    return Math.min(full, this.shortReady())
  }

  /** When a short load may start, as far as is recorded. */
  private shortReady(): number {
    const { load, least, longestWait } = this.plan
    if (least === load || this.input.endless || this.input.waiting < least) return Infinity
    return Math.max(this.now, this.readyOf(least) + longestWait + 0.5)
  }

  /** When the n-th waiting wafer became or becomes ready. */
  private readyOf(n: number): number {
    return this.input.ready[(this.input.head + n - 1) & this.input.mask]
  }

  private toolOf(tube: number): number {
    return Math.floor(tube / this.plan.tubesPerTool)
  }

  pending(): number {
    return this.find()
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    let acts = 0
    let time = this.find()
    while (acts < most && time < limit && (knowsAll || this.knows(time))) {
      if (time >= this.meter.nextFine) this.closeBlocks(time)
      this.now = time
      if (this.act === LOAD) this.startLoad(this.tube, time)
      else if (this.act === PUT) this.emit(this.tube, time)
      else this.event(this.tube, time)
      acts++
      time = this.find()
    }
    this.promise(time)
    return acts
  }

  private knows(time: number): boolean {
    if (this.needsRoom && !(this.customers[0].earliestTake > time)) return false
    if (!this.needsWafer || this.suppliers[0] === undefined) return true
    return this.suppliers[0].putsNotBefore(this.input) + this.input.delay >= time
  }

  private promise(next: number): void {
    let take = next
    if (this.needsRoom) take = Math.min(take, this.customers[0].earliestTake)
    if (this.needsWafer && this.suppliers[0])
      take = Math.min(take, this.suppliers[0].putsNotBefore(this.input) + this.input.delay)
    let put = take + 1
    for (let t = 0; t < this.tools; t++)
      if (this.size[t] > 0) put = Math.min(put, this.phase[t] === DONE ? take : this.at[t])
    if (this.full.count > 0) put = Math.min(put, take)
    this.earliestTake = take
    this.earliestPut = put
  }

  // ---- a load's way ------------------------------------------------------------

  private startLoad(tube: number, time: number): void {
    const { input } = this
    const { load } = this.plan
    this.idle.remove(tube)
    this.enter(tube, PRODUCTIVE, time)
    if (input.endless) input.refill(load, this.wafers)
    const short = this.shortReady() <= time
    let size = 0
    while (size < load && (!short || (input.waiting > 0 && input.ready[input.head] < time))) {
      const wafer = input.takeOldest()
      if (input.endless) this.wafers.birth[wafer] = time
      else if (input.bounded) input.addRoom(time)
      this.loads[tube][size++] = wafer
      this.countFlow(0, time)
    }
    this.size[tube] = size
    this.meter.counter[STARTS] += size
    const loading = this.drawLoading[tube]()
    if (loading === 0) this.startWork(tube, time)
    else this.handle(tube, LOADING, time, loading)
  }

  /** The loader works for the tube. */
  private handle(tube: number, phase: number, time: number, lasts: number): void {
    this.loaderHolds[this.toolOf(tube)] = tube
    this.phase[tube] = phase
    this.at[tube] = time + lasts
  }

  private startWork(tube: number, time: number): void {
    this.work[tube] = this.drawTime[tube]()
    this.begin(tube, time, this.work[tube])
  }

  private event(tube: number, time: number): void {
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
    this.meter.counter[ENDED] += size
    this.meter.counter[IDEAL_TIME] += size * this.idealPerWafer
    const clearing = this.settleLoad(tube, time)
    this.outcome.endLoad(tube)
    if (this.size[tube] === 0) {
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

  /** Takes the wafers out of the load that break, fail or go back. @returns time to clear the tube [ticks] */
  private settleLoad(tube: number, time: number): number {
    const { quiet } = this.outcome
    const load = this.loads[tube]
    let kept = 0
    let clearing = 0
    for (let w = 0; w < this.size[tube]; w++) {
      if (--quiet[tube] <= 0 && this.outcome.settle(tube, load[w], time) === GONE)
        clearing += this.outcome.clearing
      else load[kept++] = load[w]
    }
    this.size[tube] = kept
    return clearing
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
    const tube = this.toUnload[tool].takeFirst()
    const lasts = this.drawUnloading[tube]()
    if (this.hasLoader) this.loaderHolds[tool] = tube
    if (lasts === 0) this.waitForRoom(tube, time)
    else {
      this.enter(tube, PRODUCTIVE, time)
      this.handle(tube, UNLOADING, time, lasts)
    }
  }

  private freeLoader(tube: number, time: number): void {
    const tool = this.toolOf(tube)
    if (this.loaderHolds[tool] !== tube) return
    this.loaderHolds[tool] = -1
    this.serve(tool, time)
  }

  /** Hands over what finds a place at `time`, in the order of loading. */
  private emit(tube: number, time: number): void {
    const load = this.loads[tube]
    const size = this.size[tube]
    let out = 0
    while (out < size && this.handOver(load[out], time)) out++
    load.copyWithin(0, out, size)
    this.size[tube] = size - out
    if (out < size) return
    this.full.remove(tube)
    this.becomeIdle(tube, time)
    this.freeLoader(tube, time)
  }

  private handOver(wafer: number, time: number): boolean {
    if (this.exit) {
      this.leave(wafer, time)
      return true
    }
    const output = this.output as Channel
    if (output.roomAt(time) !== time) return false
    if (output.bounded) output.useRoom(time)
    output.put(wafer, time)
    this.countFlow(this.inputs.length, time)
    return true
  }

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
    return size - lost > 0 ? this.heldPhase[tube] : IDLE
  }

  inside(): number[] {
    return this.loads.flatMap((load, tube) => [...load.subarray(0, this.size[tube])])
  }

  waitsFor(): string {
    if (this.full.count > 0) return 'free places behind it'
    const waiting = this.input.waiting
    return this.idle.count > 0 ? `a load of ${this.plan.least} (${waiting} wafers are waiting)` : 'its tubes'
  }
}
