import type { SinglePlan } from '../plan/plan.ts'
import { drawer } from './draw.ts'
import { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } from './meter.ts'
import { AGAIN, PASSES } from './outcome.ts'
import { DOWN, FULL, IDLE, PLAIN, WATCHED } from './phases.ts'
import { type RushHost, rush } from './rush.ts'
import { type Seat, Station } from './station.ts'
import { ToolStation } from './tool-station.ts'

/** The three acts, in their order at equal times. */
const PUT = 0
const EVENT = 1
const TAKE = 2

/**
 * Single-wafer tools in parallel behind one input, before one output (or the end of the
 * line). Acts at equal times: a full tool hands over; tool events, lower tool first; an
 * idle tool takes, the one that has waited longest first.
 */
export class SingleStation extends ToolStation implements RushHost {
  /** The general loop, one act after another. */
  declare private goOn: Station['advance']
  static {
    SingleStation.prototype.goOn = Station.ownLoop()
  }

  /** Cycle time of each tool if fixed [ticks], else 0 and it is drawn. */
  readonly fixed: Float64Array
  private readonly drawCycle: (() => number)[] = []
  private readonly shortest: number
  /** The next act, left by `find`. */
  private act = EVENT
  private tool = 0
  private needsRoom = false
  private needsWafer = false
  readonly holds: Int32Array
  readonly quiet: Float64Array
  /** Both sides are buffers (first in, first out): the fast loop can be used. */
  private readonly rushes: boolean

  constructor(
    override readonly plan: SinglePlan,
    seat: Seat,
    shiftChanges: readonly number[],
  ) {
    super(plan, seat, shiftChanges)
    const { key } = seat
    this.holds = new Int32Array(plan.tools).fill(-1)
    this.fixed = new Float64Array(plan.tools)
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
    const buffered = !this.exit && !this.output.direct && !this.input.direct && !this.input.lifo
    this.rushes = buffered && !plan.treatment && plan.timeLimits.length === 0
    this.shortest = Math.max(1, Math.min(...this.fixed))
    for (let t = 0; t < plan.tools; t++) this.rest(t, 0)
  }

  /** Finds the next act by what is recorded: leaves act and tool, and what would have to be known besides. @returns its tick */
  protected find(): number {
    const { at, input } = this
    let tool = 0
    let time = at[0]
    for (let t = 1; t < this.tools; t++)
      if (at[t] < time) {
        time = at[t]
        tool = t
      }
    this.act = EVENT
    this.needsRoom = false
    this.needsWafer = false
    if (this.full.count > 0) {
      const put = this.output.roomAt(this.now)
      if (put === Infinity) this.needsRoom = true
      else if (put <= time) {
        time = put
        tool = this.full.first()
        this.act = PUT
      }
    }
    if (this.idle.count > 0) {
      if (input.waiting > 0 || input.stacked > 0 || input.endless) {
        const take = this.readyAt()
        if (take < time) {
          time = take
          tool = this.idle.first()
          this.act = TAKE
        }
      } else this.needsWafer = true
    }
    this.tool = tool
    return time
  }

  /** When an idle tool can take the next wafer that is recorded. */
  private readyAt(): number {
    const { input, now } = this
    if (input.stacked > 0 || input.endless) return now
    const ready = input.ready[input.head]
    return ready > now ? ready : now
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    if (knowsAll || !this.rushes || this.active) return this.goOn(most, limit, knowsAll)
    let acts = 0
    for (;;) {
      acts += this.rush(limit)
      const one = this.goOn(1, limit, false)
      acts += one
      if (one === 0 || acts >= most) return acts
    }
  }

  protected perform(time: number): void {
    const { act, tool } = this
    if (act === TAKE) {
      this.idle.takeFirst()
      this.enter(tool, PRODUCTIVE, time)
      this.start(tool, time)
    } else if (act === PUT) {
      this.full.takeFirst()
      this.enter(tool, BLOCKED, time)
      this.treatment?.apply(tool, this.holds[tool], time - this.finish[tool])
      this.handOver(this.holds[tool], time)
      this.goOnFree(tool, time)
    } else if (this.phase[tool] === PLAIN && this.quiet[tool] > 1) {
      this.quiet[tool]--
      this.finishWork(tool, time)
    } else this.event(tool, time)
  }

  private rush(limit: number): number {
    if (this.clocks.waiting > 0 || this.takenDepart) return 0
    let stop = Math.min(limit, this.meter.nextEdge, this.calls.knownUntil())
    for (let t = 0; t < this.tools; t++) stop = Math.min(stop, this.clocks.whenEmpty[t])
    return rush(this, this.input, this.output, stop)
  }

  nextCycle(tool: number): number {
    return this.drawCycle[tool]()
  }

  /** Whether everything that the act found at `time` depends on is known. */
  protected knows(time: number): boolean {
    if (this.calls.knownUntil() < time) return false
    const { input } = this
    const finishing = this.act === EVENT && this.phase[this.tool] <= WATCHED && !this.exit
    if (this.needsRoom && !(this.customers[0].earliestTake > time)) return false
    if (finishing && this.full.count === 0 && !this.roomKnown(time)) return false
    if (!this.needsWafer && !(input.lifo && this.idle.count > 0)) return true
    return this.suppliers[0] === undefined || this.suppliers[0].earliestPut + input.delay >= time
  }

  /** Whether it is known if a wafer finished at `time` finds a place then. */
  private roomKnown(time: number): boolean {
    return this.output.roomAt(time) < Infinity || this.customers[0].earliestTake > time
  }

  /** The promises, with the next act by what is recorded at `next`. */
  protected promise(next: number): void {
    let take = Math.min(next, this.calls.earliestUp())
    let put = take
    if (this.needsRoom) take = put = Math.min(take, this.customers[0].earliestTake)
    if (this.needsWafer) {
      const arrival = (this.suppliers[0] as Station).earliestPut + this.input.delay
      if (arrival < take) take = arrival
      if (arrival + this.shortest < put) put = arrival + this.shortest
    }
    this.earliestTake = take
    this.earliestPut = put
    if (this.reworkChannel) this.earliestBack = this.nextBack(take)
  }

  /** No tool can have come to its next wafer for rework before, taking none before `take`. */
  private nextBack(take: number): number {
    let back = Infinity
    for (let t = 0; t < this.tools; t++) {
      const works = this.phase[t] === PLAIN || this.phase[t] === WATCHED || this.phase[t] === DOWN
      const first = works ? this.upAt(t) : take + this.shortest
      back = Math.min(back, first + (this.outcome.toNextRework(t) - 1) * this.shortest)
    }
    return back
  }

  /** A tool takes the next wafer. */
  private start(tool: number, time: number): void {
    const { input } = this
    if (input.endless && input.waiting === 0) input.refill(64, this.wafers)
    const wafer = input.lifo ? input.takeNewest(time) : input.takeOldest()
    if (input.endless) this.wafers.birth[wafer] = time
    else if (input.bounded && !input.direct) input.addRoom(time)
    this.countTaken(time)
    if (this.plan.timeLimits.length > 0 && !this.admits(wafer, time)) {
      this.rest(tool, time)
      // It keeps its turn, as it does when it takes the next wafer without having been idle.
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
    const cycle = this.fixed[tool] > 0 ? this.fixed[tool] : this.drawCycle[tool]()
    this.work[tool] = cycle
    this.begin(tool, time, cycle)
  }

  /** The tool has done its wafer, and nothing happens to it. */
  private finishWork(tool: number, time: number): void {
    this.enter(tool, STARVED, time)
    this.meter.counter[IDEAL_TIME] += this.work[tool]
    this.passOn(tool, time)
  }

  /** The wafer leaves, or its tool waits for a place. */
  private passOn(tool: number, time: number): void {
    const wafer = this.holds[tool]
    const goes = this.exit || (this.full.count === 0 && this.output.roomAt(time) === time)
    if (!goes) {
      this.waitForRoom(tool, time)
      return
    }
    this.treatment?.apply(tool, wafer, 0)
    if (this.exit) this.leave(wafer, time)
    else this.handOver(wafer, time)
    this.goOnFree(tool, time)
  }

  /** A tool that has handed over takes the next wafer at once if that is its turn, else it is idle. */
  private goOnFree(tool: number, time: number): void {
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
    if (this.input.direct) this.input.request(time, this.at[tool])
  }

  protected override restOn(tool: number, time: number): void {
    super.restOn(tool, time)
    if (this.input.direct) this.input.request(time, this.at[tool])
  }

  protected override goIdle(tool: number, time: number): void {
    this.rest(tool, time)
  }

  /** Everything that is not the plain end of work. */
  private event(tool: number, time: number): void {
    const phase = this.phase[tool]
    if (phase === DOWN) this.comeUp(tool, time)
    else if (phase === IDLE || phase === FULL) this.strike(tool, time)
    else if (phase === WATCHED && !this.watchedEnds(tool, time)) this.strike(tool, time)
    else if (--this.outcome.quiet[tool] > 0) this.finishWork(tool, time)
    else this.settle(tool, time)
  }

  private settle(tool: number, time: number): void {
    this.enter(tool, STARVED, time)
    this.meter.counter[IDEAL_TIME] += this.work[tool]
    const fate = this.outcome.settle(tool, this.holds[tool], time)
    if (fate === PASSES) this.passOn(tool, time)
    else if (fate === AGAIN) this.workOn(tool, time)
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

  protected nextPieceCall(tool: number, from: number): number {
    const pieces = this.outcome.toNextCall(tool)
    if (pieces === Infinity) return Infinity
    const works = this.phase[tool] === PLAIN || this.phase[tool] === WATCHED
    return works
      ? this.finish[tool] + (pieces - 1) * this.shortest
      : Math.max(from, this.now) + pieces * this.shortest
  }

  inside(): number[] {
    return [...this.holds].filter(wafer => wafer >= 0)
  }

  waitsFor(): string {
    if (this.full.count > 0) return 'a free place behind it'
    if (this.idle.count > 0) return 'wafers'
    return 'its tools'
  }
}
