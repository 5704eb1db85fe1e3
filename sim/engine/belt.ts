import type { BeltPlan } from '../plan/plan.ts'
import { BeltEnd } from './belt-end.ts'
import { BLOCKED, PRODUCTIVE, STARTS, STARVED } from './meter.ts'
import { DOWN, IDLE, PLAIN, WATCHED } from './phases.ts'
import { type Seat, Station } from './station.ts'

/** The acts, in their order at equal times. */
const PUT = 0
const SCRAP = 1
const EXIT = 2
const EVENT = 3
const REQUEST = 4
const TAKE = 5

/**
 * Belt tools in parallel: a wafer occupies the infeed for one slot and leaves the other
 * end a transit later; wafers inside cannot wait. What comes first at equal times: a
 * wafer at an end finds a place, or is scrapped; a wafer reaches an end, lower tool
 * first; tool events; an infeed asks for a wafer; an infeed takes one.
 *
 * Run out: a wafer enters only when a place behind the belt is reserved for it, that is
 * when one is free for each wafer inside and one more (or `keepFree`). What reaches the
 * end and finds none all the same waits there, and is scrapped after the tolerance.
 * Stop: the belt halts (phase FULL) while the first wafer finds no place.
 *
 * States are judged at the infeed: productive during its slots, starved without a wafer
 * before it, blocked while it holds one back.
 */
export class BeltStation extends BeltEnd {
  /** The loop of one act after another. */
  declare private goOn: Station['advance']
  static {
    BeltStation.prototype.goOn = Station.ownLoop()
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    const acts = this.goOn(most, limit, knowsAll)
    if (knowsAll) return acts
    const ahead = this.runOut(Math.min(limit, this.meter.nextEdge))
    if (ahead > 0) this.promise(this.find())
    return acts + ahead
  }

  /** The infeed is free from this tick on (phase IDLE). */
  private readonly free: Float64Array
  /** Direct input: since when the infeed has asked for a wafer; Infinity: it has not. */
  private readonly asked: Float64Array
  private act = EVENT
  private tool = 0
  private needsRoom = false
  private needsWafer = false

  constructor(plan: BeltPlan, seat: Seat, shiftChanges: readonly number[]) {
    super(plan, seat, shiftChanges)
    this.free = new Float64Array(plan.tools)
    this.asked = new Float64Array(plan.tools).fill(Infinity)
    for (let t = 0; t < plan.tools; t++) this.goIdle(t, 0)
  }

  // ---- the next act ------------------------------------------------------------

  protected find(): number {
    this.needsRoom = this.needsWafer = false
    const { at, still, tails } = this
    let time = this.findEnd()
    for (let t = 0; t < this.tools; t++) {
      const exit = tails[t].nextExit()
      if (exit < time && still[t] === Infinity) time = this.mark(EXIT, t, exit)
    }
    for (let t = 0; t < this.tools; t++) if (at[t] < time) time = this.mark(EVENT, t, at[t])
    return this.input.direct ? this.findDirectTake(time) : this.findTake(time)
  }

  private mark(act: number, tool: number, time: number): number {
    this.act = act
    this.tool = tool
    return time
  }

  /** Wafers that wait at an end. */
  private findEnd(): number {
    if (this.ends.count === 0 && this.full.count === 0) return Infinity
    const place = this.output.roomAt(this.now)
    if (place === Infinity) this.needsRoom = true
    const scrap = this.ends.nextExit()
    if (place < Infinity && place <= scrap)
      return this.mark(PUT, this.full.count > 0 ? this.full.first() : -1, place)
    return scrap < Infinity ? this.mark(SCRAP, -1, scrap) : Infinity
  }

  /** The infeed that has been free longest takes the next wafer when that is there and a place is reserved. */
  private findTake(time: number): number {
    const tool = this.freest()
    if (tool < 0) return time
    const { input, now } = this
    if (input.waiting === 0 && input.stacked === 0 && !input.endless) {
      this.needsWafer = true
      return time
    }
    const place = this.reserved(this.insideAll)
    if (place === Infinity) {
      this.needsRoom = true
      return time
    }
    const ready = input.endless || input.stacked > 0 ? now : input.ready[input.head]
    const take = Math.max(ready, this.free[tool], place, now)
    return take < time ? this.mark(TAKE, tool, take) : time
  }

  private freest(): number {
    let best = -1
    for (let t = 0; t < this.tools; t++)
      if (this.phase[t] === IDLE && (best < 0 || this.free[t] < this.free[best])) best = t
    return best
  }

  /** Direct input: an infeed that is free and has a place reserved asks; the first that asked takes. */
  private findDirectTake(before: number): number {
    let time = before
    let waits = -1
    for (let t = 0; t < this.tools; t++)
      if (
        this.phase[t] === IDLE &&
        this.asked[t] === Infinity &&
        (waits < 0 || this.free[t] < this.free[waits])
      )
        waits = t
    if (waits >= 0) {
      const place = this.reserved(this.insideAll + this.idle.count)
      const ask = Math.max(this.free[waits], place, this.now)
      if (place === Infinity) this.needsRoom = true
      else if (ask < time) time = this.mark(REQUEST, waits, ask)
    }
    if (this.idle.count === 0) return time
    if (this.input.waiting === 0) {
      this.needsWafer = true
      return time
    }
    const take = Math.max(this.input.ready[this.input.head], this.now)
    return take < time ? this.mark(TAKE, this.idle.first(), take) : time
  }

  /** When the place that the next wafer needs is free, `before` it being spoken for; Infinity when that is not recorded. */
  private reserved(before: number): number {
    const { output } = this
    if (this.exit || !output.bounded || this.plan.halts || this.plan.keepFree === 0) return 0
    const entry = Math.min(before, this.plan.keepFree - 1)
    return entry < output.roomLeft ? output.room[(output.roomHead + entry) & output.roomMask] : Infinity
  }

  protected perform(time: number): void {
    const { act, tool } = this
    if (act === TAKE) this.take(tool, time)
    else if (act === EXIT) this.reachEnd(tool, time)
    else if (act === EVENT) this.event(tool, time)
    else if (act === REQUEST) this.ask(tool, time)
    else if (act === SCRAP) this.scrapAtEnd(time)
    else this.putFromEnd(tool, time)
  }

  protected knows(time: number): boolean {
    if (this.calls.knownUntil() < time) return false
    const atEnd = this.act === EXIT && !this.exit
    const needsRoom = this.needsRoom || (atEnd && this.output.roomAt(time) === Infinity)
    if (needsRoom && !(this.customers[0].earliestTake > time)) return false
    if (!this.needsWafer && !this.input.lifo) return true
    return this.suppliers[0] === undefined || this.suppliers[0].earliestPut + this.input.delay >= time
  }

  protected promise(next: number): void {
    let take = Math.min(next, this.calls.earliestUp())
    if (this.needsRoom) take = Math.min(take, this.customers[0].earliestTake)
    if (this.needsWafer && this.suppliers[0])
      take = Math.min(take, this.suppliers[0].earliestPut + this.input.delay)
    let put = Math.max(take, this.now) + this.plan.transit
    for (let t = 0; t < this.tools; t++) put = Math.min(put, this.tails[t].nextExit())
    // A wafer at an end goes as soon as there is a place and its belt is up.
    if (this.ends.count > 0 || (this.plan.halts && this.atEnd.some(wafer => wafer >= 0)))
      put = Math.min(put, take)
    this.earliestTake = take
    this.earliestPut = Math.max(put, this.now)
    if (this.reworkChannel) this.earliestBack = this.nextBack(Math.max(take, this.now))
  }

  // ---- the infeed --------------------------------------------------------------

  private ask(tool: number, time: number): void {
    this.asked[tool] = time
    this.idle.add(tool)
    this.input.request(time, this.at[tool])
  }

  private take(tool: number, time: number): void {
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

  protected override book(tool: number, time: number): void {
    if (this.phase[tool] === IDLE) this.bookWait(tool, time)
    else super.book(tool, time)
  }

  private event(tool: number, time: number): void {
    const phase = this.phase[tool]
    if (phase === DOWN) this.comeUp(tool, time)
    else if (phase === PLAIN || (phase === WATCHED && this.watchedEnds(tool, time)))
      this.openInfeed(tool, time)
    else this.strike(tool, time)
  }

  waitsFor(): string {
    if (this.full.count > 0 || this.ends.count > 0) return 'a free place behind it'
    return this.needsRoom ? 'enough free places behind it for what is inside' : 'wafers'
  }
}
