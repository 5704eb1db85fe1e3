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
  /** Until when it asks. */
  private readonly askedUntil: Float64Array

  /** A wafer enters only when it has a place behind the belt. */
  readonly reserves: boolean

  constructor(plan: BeltPlan, seat: Seat) {
    super(plan, seat)
    this.reserves = !this.exit && this.output.bounded && !plan.halts && plan.keepFree > 0
    this.free = this.fields.of(FREE)
    this.asked = new Float64Array(plan.tools).fill(Infinity)
    this.askedUntil = new Float64Array(plan.tools).fill(Infinity)
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

  /**
   * A wafer is taken before the next event; by a belt that halts only before its first wafer may bring it to a
   * stand, and in any case before one ends with which a stop is due that may come as soon as somebody is there.
   */
  private request(tool: number, time: number): void {
    const tail = this.tails[tool]
    const last = this.outcome.toNextWaiting(tool)
    const due = last <= tail.count ? tail.exitOf(last - 1) : Infinity
    const stands = this.plan.halts ? tail.nextExit() : Infinity
    this.askedUntil[tool] = Math.min(this.at[tool], stands, due)
    this.input.request(time, this.askedUntil[tool], tool)
  }

  /** A wafer has left, up to which the belt has asked for one: it asks anew. */
  protected askOn(tool: number, time: number): void {
    const asks = this.phase[tool] === IDLE && this.asked[tool] < Infinity
    if (!asks || this.askedUntil[tool] > time) return
    this.idle.remove(tool)
    this.idle.add(tool)
    this.request(tool, time)
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
    if (time - this.finish[tool] > this.clocks.idle.longest) {
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
    this.at[tool] = this.opensUntil(tool, time)
    if (this.asked[tool] === Infinity) return
    this.idle.remove(tool)
    this.asked[tool] = Infinity
  }

  private opensUntil(tool: number, time: number): number {
    const free = Math.max(this.free[tool], time)
    const empty = Math.max(free, this.clocks.whenEmpty[tool])
    const starved = this.clocks.whenStarved[tool] === 1 ? free + 1 : Infinity
    return Math.min(Math.max(time, this.calendar[tool]), empty, starved)
  }

  /** What becomes due at the end of the belt and waits for its moment may find it at the infeed. */
  override strikeNext(tool: number, stop: number, time: number): boolean {
    const strikes = super.strikeNext(tool, stop, time)
    if (this.phase[tool] === IDLE) this.reckonWithStop(tool)
    return strikes
  }

  protected override reckonWithStop(tool: number): void {
    if (this.phase[tool] !== IDLE) {
      super.reckonWithStop(tool)
      return
    }
    this.at[tool] = Math.min(this.at[tool], this.opensUntil(tool, this.now))
    if (this.input.direct) this.input.shortenRequest(tool, this.at[tool])
  }

  /** The slot of a wafer was thought to be over when the infeed was opened: what is left of it is still to be done. */
  protected override strike(tool: number, time: number): void {
    const left = this.free[tool] - time
    if (this.phase[tool] === IDLE && left > 0) {
      this.clocks.takeBack(tool, left)
      this.phase[tool] = WATCHED
      this.watchedFrom[tool] = time
      this.finish[tool] = this.free[tool]
    }
    super.strike(tool, time)
  }

  protected goIdle(tool: number, time: number): void {
    this.enter(tool, PRODUCTIVE, time)
    this.openInfeed(tool, time)
  }

  protected closeInfeed(tool: number, time: number): number {
    if (this.asked[tool] < Infinity) this.idle.remove(tool)
    const slotEnd = this.phase[tool] === IDLE ? this.free[tool] : this.finish[tool]
    const left = Math.max(0, slotEnd - time)
    if (this.phase[tool] === WATCHED) {
      this.countRun(tool, time)
      this.countRest(tool, left)
    }
    return left
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
