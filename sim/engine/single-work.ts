import type { SinglePlan } from '../plan/plan.ts'
import { Boxes } from './boxes.ts'
import { drawer } from './draw.ts'
import * as Books from './meter.ts'
import * as Outcomes from './outcome.ts'
import * as Phases from './phases.ts'
import type { Seat } from './station.ts'
import * as Fields from './tool-fields.ts'
import { ToolStation } from './tool-station.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { AGAIN, PASSES } = Outcomes
const { DOWN, FULL, HELD, IDLE, WATCHED } = Phases
const { FIXED, HOLDS } = Fields

/** The way of a wafer through a single-wafer tool: taken, worked on, settled, handed on. */
export abstract class SingleWork extends ToolStation {
  /** Cycle time of each tool if fixed [ticks], else 0 and it is drawn. */
  readonly fixed: Float64Array
  private readonly drawCycle: (() => number)[] = []
  protected readonly shortest: number
  readonly holds: Float64Array
  readonly quiet: Float64Array
  /** What a sorter sorts into, and the output of the cell in each tool. */
  readonly boxes: Boxes | undefined
  private readonly boxOf: Int32Array

  constructor(
    override readonly plan: SinglePlan,
    seat: Seat,
  ) {
    super(plan, seat)
    const { key } = seat
    this.holds = this.fields.of(HOLDS).fill(-1)
    const boxes = plan.outcome.boxes
    this.boxes = boxes && new Boxes(boxes, this, plan.tools, key)
    this.boxOf = new Int32Array(plan.tools)
    this.fixed = this.fields.of(FIXED)
    for (let t = 0; t < plan.tools; t++) {
      const law = plan.cycle[t]
      // Values replayed in order belong to the step: the tools share one reader.
      const shared = law.kind === 'replayed' && t > 0
      this.drawCycle.push(
        shared ? this.drawCycle[0] : drawer(law, key, 1, plan.name, `tool ${t + 1}`, 'cycle'),
      )
      if (law.kind === 'fixed') this.fixed[t] = this.drawCycle[t]()
    }
    this.quiet = this.outcome.quiet
    this.shortest = Math.max(1, Math.min(...this.fixed))
  }

  override open(): void {
    super.open()
    for (let t = 0; t < this.tools; t++) this.rest(t, 0)
  }

  nextCycle(tool: number): number {
    return this.drawCycle[tool]()
  }

  /** A tool takes the next wafer. */
  protected start(tool: number, time: number): void {
    const wafer = this.takeFrom(this.input, time)
    this.countTaken(wafer, time)
    if (this.plan.timeLimits.length > 0 && !this.admits(wafer, time)) {
      this.rest(tool, time)
      // It keeps its turn, as it does when it takes the next wafer without having been idle; who must ask asks anew.
      if (this.input.direct) return
      this.idle.remove(tool)
      this.idle.addFirst(tool)
      return
    }
    this.holds[tool] = wafer
    this.workOn(tool, time)
  }

  /** Starts the work on the wafer that the tool holds. */
  private workOn(tool: number, time: number): void {
    this.state[tool] = PRODUCTIVE
    this.meter.counter[STARTS]++
    const idle = time - this.finish[tool]
    // It strikes with the wafer in the tool; one that counts wafers and is due then comes one wafer later.
    if (idle > this.idleLimit) {
      if (this.striking[tool] >= 0) this.outcome.armPieceStop(tool, this.striking[tool], 1)
      this.striking[tool] = this.clocks.idle.dueAfter(idle)
    }
    const cycle = this.fixed[tool] > 0 ? this.fixed[tool] : this.drawCycle[tool]()
    this.work[tool] = cycle
    this.begin(tool, time, cycle)
  }

  /** The tool has done its wafer, and nothing happens to it. */
  protected finishWork(tool: number, time: number): void {
    this.enter(tool, STARVED, time)
    this.meter.counter[IDEAL_TIME] += this.work[tool]
    this.passOn(tool, time)
  }

  // ---- boxes -------------------------------------------------------------------

  /** A cell that has been tested, here or before, goes into its box. */
  private sortOn(tool: number, time: number): void {
    const { boxes } = this
    const { cells } = this.wafers
    if (!boxes) {
      this.passOn(tool, time)
      return
    }
    this.boxOf[tool] =
      boxes.plan.outputOf[cells.length > 0 ? cells[this.holds[tool]] : (this.outcome.tester?.cells ?? 0)]
    this.intoBox(boxes, tool, time)
  }

  boxesCell(tool: number, time: number): boolean {
    const { boxes, outcome } = this
    if (!boxes || outcome.tester || !outcome.passesPlainly(tool)) return false
    if (!boxes.takesPlainly(boxes.plan.outputOf[this.wafers.cells[this.holds[tool]]], time)) return false
    outcome.pass(tool)
    return true
  }

  /** The cell goes into its box and on, or its tool is held until the output has a box that is not full. */
  private intoBox(boxes: Boxes, tool: number, time: number): void {
    if (boxes.put(this.boxOf[tool], time)) this.passOn(tool, time)
    else this.hold(tool, time)
  }

  private hold(tool: number, time: number): void {
    this.enter(tool, BLOCKED, time)
    this.phase[tool] = HELD
    this.at[tool] = this.standsUntil(tool, time)
  }

  /** An event of a tool that is held: its output has a box again (which another tool may have filled), or a stop strikes. */
  private holdEnds(boxes: Boxes, tool: number, time: number): void {
    if (boxes.freeFrom(this.boxOf[tool]) <= time) {
      this.enter(tool, STARVED, time)
      this.intoBox(boxes, tool, time)
    } else if (this.clocks.stands[tool] <= time) this.strike(tool, time)
    else this.hold(tool, time)
  }

  protected override standsUntil(tool: number, time: number): number {
    const until = super.standsUntil(tool, time)
    if (!this.boxes || this.phase[tool] !== HELD) return until
    return Math.max(time, Math.min(until, this.boxes.freeFrom(this.boxOf[tool])))
  }

  protected override goOnAs(phase: number, tool: number, time: number): void {
    if (phase === HELD) this.hold(tool, time)
    else super.goOnAs(phase, tool, time)
  }

  override granted(handle: number, reached: number): void {
    const { boxes, tools } = this
    if (!boxes || handle < tools) {
      super.granted(handle, reached)
      return
    }
    const empty = boxes.granted(handle - tools, reached)
    for (let t = 0; t < tools; t++)
      if (this.phase[t] === HELD && this.boxOf[t] === handle - tools) this.at[t] = Math.min(this.at[t], empty)
  }

  /** A swap that is not granted may let a tool go. */
  protected override wantsNews(): boolean {
    return super.wantsNews() || this.boxesKnownBefore() < Infinity
  }

  /** Up to, not including, this tick it is known which cells find a box. */
  protected boxesKnownBefore(): number {
    return this.boxes ? this.boxes.knownBefore(this.now) : Infinity
  }

  // ---- places ------------------------------------------------------------------

  /** The wafer leaves, or its tool waits for a place. */
  private passOn(tool: number, time: number): void {
    const wafer = this.holds[tool]
    const goes = this.exit || (this.full.count === 0 && this.output.roomAt(time) === time)
    if (!goes) {
      this.waitForRoom(tool, time)
      return
    }
    const ended = this.finish[tool]
    this.treatment?.apply(tool, wafer, ended, time - ended)
    if (this.exit) this.leave(wafer, time)
    else this.handOver(wafer, time)
    this.goOnFree(tool, time)
  }

  /** A tool that has handed over takes the next wafer at once if that is its turn, else it is idle. */
  protected goOnFree(tool: number, time: number): void {
    this.holds[tool] = -1
    const { input } = this
    const waits = input.waiting > 0 && input.ready[input.head] <= time
    if (
      this.idle.count === 0 &&
      (waits || input.endless) &&
      !input.lifo &&
      !input.direct &&
      this.rests[tool] > time
    ) {
      this.state[tool] = PRODUCTIVE
      this.start(tool, time)
    } else this.rest(tool, time)
  }

  /** The tool becomes idle, and asks for a wafer if it must be handed one. */
  private rest(tool: number, time: number): void {
    this.becomeIdle(tool, time)
    if (this.input.direct) this.input.request(time, this.at[tool], tool)
  }

  protected override restOn(tool: number, time: number): void {
    super.restOn(tool, time)
    if (!this.input.direct) return
    this.idle.remove(tool)
    this.idle.add(tool)
    this.input.request(time, this.at[tool], tool)
  }

  protected override goIdle(tool: number, time: number): void {
    this.rest(tool, time)
  }

  /** Everything that is not the plain end of work. */
  protected event(tool: number, time: number): void {
    const phase = this.phase[tool]
    if (phase === DOWN) this.comeUp(tool, time)
    else if (phase === IDLE || phase === FULL) this.strike(tool, time)
    else if (phase === HELD && this.boxes) this.holdEnds(this.boxes, tool, time)
    else if (phase === WATCHED && !this.watchedEnds(tool, time)) this.strike(tool, time)
    else if (--this.outcome.quiet[tool] > 0) this.finishWork(tool, time)
    else this.settle(tool, time)
  }

  private settle(tool: number, time: number): void {
    this.enter(tool, STARVED, time)
    this.meter.counter[IDEAL_TIME] += this.work[tool]
    this.goOnAfter(this.outcome.settle(tool, this.holds[tool], time), tool, time)
  }

  /** The tool goes on with, or without, the wafer whose work has ended. @param fate see `settle` of the outcome */
  goOnAfter(fate: number, tool: number, time: number): void {
    if (fate === PASSES) {
      this.sortOn(tool, time)
      return
    }
    this.treatment?.wear(tool, 1)
    if (fate === AGAIN) this.workOn(tool, time)
    else if (this.outcome.clearing > 0) {
      this.holds[tool] = -1
      this.clear(tool, time, this.outcome.clearing)
    } else this.goOnFree(tool, time)
  }

  protected loseInside(tool: number, stop: number, most: number, time: number): number {
    if (most < 1) return this.heldPhase[tool]
    this.removeWafer(this.holds[tool], time)
    this.holds[tool] = -1
    this.bookLoss(stop, 1)
    return IDLE
  }

  inside(): number[] {
    return [...this.holds].filter(wafer => wafer >= 0)
  }
}
