import type { BeltPlan } from '../plan/plan.ts'
import { BeltEnd } from './belt-end.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { Seat } from './station.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, PRODUCTIVE, STARTS, STARVED } = Books
const { IDLE, PLAIN, WATCHED } = Phases
const { FREE } = Fields

/**
 * The infeed of belts: when one is free, asks for a wafer or takes one, and its books.
 * Nothing can happen during the slot of a wafer but a stop that is watched for, so the
 * infeed counts as free from the end of the slot on, without an event.
 */
export abstract class BeltInfeed extends BeltEnd {
  /** The infeed is free from this tick on (phase IDLE). */
  protected readonly free: Float64Array
  /** Direct input: since when the infeed has asked for a wafer; Infinity: it has not. */
  protected readonly asked: Float64Array

  /** A wafer enters only when it has a place behind the belt. */
  readonly reserves: boolean

  constructor(plan: BeltPlan, seat: Seat, shiftChanges: readonly number[]) {
    super(plan, seat, shiftChanges)
    this.reserves = !this.exit && this.output.bounded && !plan.halts && plan.keepFree > 0
    this.free = this.fields.of(FREE)
    this.asked = new Float64Array(plan.tools).fill(Infinity)
  }

  override open(): void {
    super.open()
    for (let t = 0; t < this.tools; t++) this.goIdle(t, 0)
  }

  protected freest(): number {
    let best = -1
    for (let t = 0; t < this.tools; t++)
      if (this.phase[t] === IDLE && (best < 0 || this.free[t] < this.free[best])) best = t
    return best
  }

  /** When the place that the next wafer needs is free, `before` it being spoken for; Infinity when that is not recorded. */
  protected reserved(before: number): number {
    if (!this.reserves) return 0
    const { output } = this
    const entry = Math.min(before, this.plan.keepFree - 1)
    return entry < output.roomLeft ? output.room[(output.roomHead + entry) & output.roomMask] : Infinity
  }

  protected ask(tool: number, time: number): void {
    this.asked[tool] = time
    this.idle.add(tool)
    this.request(tool, time)
  }

  /** A wafer is taken before the next event; by a belt that halts only before its first wafer may bring it to a stand. */
  private request(tool: number, time: number): void {
    const stands = this.plan.halts ? this.tails[tool].nextExit() : Infinity
    this.input.request(time, Math.min(this.at[tool], stands))
  }

  /** A wafer has left a belt that might have halted: what it has asked for it goes on asking for. */
  protected askOn(tool: number, time: number): void {
    if (this.plan.halts && this.phase[tool] === IDLE && this.asked[tool] < Infinity) this.request(tool, time)
  }

  protected take(tool: number, time: number): void {
    const { input } = this
    this.bookWait(tool, time)
    if (input.direct) this.idle.takeFirst()
    const wafer = this.takeFrom(input, time)
    this.countTaken(wafer, time)
    if (this.plan.timeLimits.length > 0 && !this.admits(wafer, time)) {
      this.state[tool] = PRODUCTIVE
      this.openInfeed(tool, time)
      return
    }
    this.meter.counter[STARTS]++
    this.insideAll++
    this.asked[tool] = Infinity
    this.work[tool] = this.plan.slot
    if (time - this.finish[tool] > this.clocks.idleLimit) {
      this.holdAtInfeed(tool, wafer, time)
      return
    }
    this.tails[tool].add(wafer, time + this.plan.transit)
    this.state[tool] = PRODUCTIVE
    this.begin(tool, time, this.plan.slot)
    if (this.phase[tool] === PLAIN) this.openInfeed(tool, time + this.plan.slot)
  }

  /** Nothing can happen before the slot ends: the infeed counts as free from then on, without an event. */
  protected openInfeed(tool: number, free: number): void {
    this.phase[tool] = IDLE
    this.idleFrom[tool] = free
    this.free[tool] = free
    this.restOn(tool, this.now)
    this.asked[tool] = Infinity
  }

  /** A stop by calendar may come during the slot, one that waits for an empty or starved infeed after it. */
  protected override restOn(tool: number, time: number): void {
    const free = Math.max(this.free[tool], time)
    const empty = Math.max(free, this.clocks.whenEmpty[tool])
    const starved = this.clocks.whenStarved[tool] === 1 ? free + 1 : Infinity
    this.at[tool] = Math.min(Math.max(time, this.calendar[tool]), empty, starved)
    if (this.asked[tool] === Infinity) return
    this.idle.remove(tool)
    this.asked[tool] = Infinity
  }

  protected goIdle(tool: number, time: number): void {
    this.enter(tool, PRODUCTIVE, time)
    this.openInfeed(tool, time)
  }

  protected closeInfeed(tool: number, time: number): number {
    if (this.asked[tool] < Infinity) this.idle.remove(tool)
    if (this.phase[tool] === WATCHED) this.countRun(tool, time)
    const slotEnd = this.phase[tool] === IDLE ? this.free[tool] : this.finish[tool]
    return Math.max(0, slotEnd - time)
  }

  /** Books an idle infeed up to `time`: its slot, then starved, then holding a wafer back (or the other way round when it must ask). */
  private bookWait(tool: number, time: number): void {
    const { input } = this
    const from = this.since[tool]
    const free = Math.min(Math.max(this.free[tool], from), time)
    this.bookAs(tool, PRODUCTIVE, from, free)
    if (input.direct) {
      const asked = Math.min(Math.max(this.asked[tool], free), time)
      this.bookAs(tool, BLOCKED, free, asked)
      this.bookAs(tool, STARVED, asked, time)
    } else {
      const ready =
        input.stacked > 0 || input.endless ? free : input.waiting > 0 ? input.ready[input.head] : time
      const arrival = Math.min(Math.max(ready, free), time)
      this.bookAs(tool, STARVED, free, arrival)
      this.bookAs(tool, BLOCKED, arrival, time)
    }
    this.since[tool] = time
  }

  /** What `bookWait` would write down: an open infeed has no acts between its slots. */
  override stateBefore(tool: number, time: number): number {
    if (this.phase[tool] !== IDLE) return super.stateBefore(tool, time)
    const { input } = this
    // Before the run nothing has come, and nothing been asked for.
    if (time === 0) return STARVED
    if (this.free[tool] >= time) return PRODUCTIVE
    if (input.direct) return this.asked[tool] < time ? STARVED : BLOCKED
    if (input.stacked > 0 || input.endless) return BLOCKED
    return input.waiting > 0 && input.ready[input.head] < time ? BLOCKED : STARVED
  }

  protected override book(tool: number, time: number): void {
    if (this.phase[tool] === IDLE) this.bookWait(tool, time)
    else super.book(tool, time)
  }
}
