import type { BeltPlan } from '../plan/plan.ts'
import { BeltFlow } from './belt-flow.ts'
import * as Phases from './phases.ts'
import { type Seat, Station } from './station.ts'

const { DOWN, IDLE, PLAIN, WATCHED } = Phases

/** The acts, in their order at equal times. */
const PUT = 0
const SCRAP = 1
const EXIT = 2
const EVENT = 3
const REQUEST = 4
const TAKE = 5

/** Acts that the general loop does at a time where nothing is plain. */
const OTHERS = 16

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
export class BeltStation extends BeltFlow {
  override readonly few = 64
  /** The loop of one act after another. */
  declare private goOn: Station['advance']
  static {
    BeltStation.prototype.goOn = Station.busyLoop
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    if (knowsAll) return this.goOn(most, limit, true)
    // At the end of a block one act is enough: after it the next ones are plain again.
    for (let acts = 0, tries = 1; ; tries = OTHERS) {
      const plain = this.hurry(limit)
      const others = this.goOn(plain > 0 ? 1 : tries, limit, false)
      acts += plain + others
      if (others === 0 || acts >= most) return acts
    }
  }

  override hurry(limit: number): number {
    return this.flows ? this.flow(limit) : this.runOut(Math.min(limit, this.meter.nextEdge))
  }

  private act = EVENT
  private tool = 0
  private needsRoom = false
  private needsWafer = false
  /** The fast loop can be used. */
  private readonly flows: boolean

  constructor(plan: BeltPlan, seat: Seat) {
    super(plan, seat)
    this.flows = !this.input.direct
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

  protected perform(time: number): void {
    const { act, tool } = this
    if (act === TAKE) this.take(tool, time)
    else if (act === EXIT) {
      this.reachEnd(tool, time)
      this.askOn(tool, time)
    } else if (act === EVENT) this.event(tool, time)
    else if (act === REQUEST) this.ask(tool, time)
    else if (act === SCRAP) this.scrapAtEnd(time)
    else this.putFromEnd(tool, time)
  }

  protected knows(time: number): boolean {
    if (this.calls.knownUntil() < time) return false
    const atEnd = this.act === EXIT && !this.exit
    const needsRoom = this.needsRoom || (atEnd && this.output.roomAt(time) === Infinity)
    if (needsRoom && !(this.output.takesFrom > time)) return false
    if (!this.needsWafer && !this.input.lifo) return true
    return this.input.entersFrom() >= time
  }

  protected promise(next: number): void {
    let take = Math.min(next, this.calls.earliestUp())
    if (this.needsRoom) take = Math.min(take, this.output.takesFrom)
    if (this.needsWafer) take = Math.min(take, this.input.arrivesFrom())
    let put = Math.max(take, this.now) + this.plan.transit
    for (let t = 0; t < this.tools; t++) put = Math.min(put, this.tails[t].nextExit())
    // A wafer at an end goes as soon as there is a place and its belt is up.
    if (this.ends.count > 0 || (this.plan.halts && this.holdsAtEnd())) put = Math.min(put, take)
    this.promised(take, Math.max(put, this.now))
    const ends = !this.exit && this.output.roomAt(this.now) === Infinity
    this.promises.hear(this.needsWafer || this.input.lifo, this.needsRoom || ends)
    if (this.sendsBack) this.promiseBack(take, Math.max(take, this.now))
  }

  /** What is on the belts leaves in turn, what enters now a transit later. */
  override putsNotBefore(count: number): number {
    const { plan, promises, tails, tools } = this
    if (this.ends.count > 0 || this.holdsAtEnd()) return promises.put
    // Of so many wafers one belt or another has put this many.
    const share = Math.ceil(count / tools)
    let bound = Infinity
    for (let t = 0; t < tools; t++) {
      const entries = share - tails[t].count
      const put =
        entries > 0 ? promises.take + (entries - 1) * plan.slot + plan.transit : tails[t].exitOf(share - 1)
      if (put < bound) bound = put
    }
    return bound
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
