import * as Plans from '../plan/plan.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { Condition } from './stop-clocks.ts'
import { ToolCalls } from './tool-calls.ts'

const { IDLENESS, LOSE, LOSE_SOME, RESTART } = Plans
const { BLOCKED, PRODUCTIVE, STARVED, STOP_COLUMNS, STOP_COUNT, WAITING_FOR_CREW } = Books
const { DOWN, FULL, HELD, IDLE, PLAIN, WATCHED } = Phases

/**
 * Tools side by side with their stops and the outcome of their work: what single-wafer,
 * belt and batch stations share. While a tool is down its calendar stops wait for it to
 * come up again.
 */
export abstract class ToolStation extends ToolCalls {
  /** Per tool, when the line was closed last. */
  private readonly closedFrom = new Float64Array(this.tools)
  private readonly closedTo = new Float64Array(this.tools)

  // ---- work and stops ----------------------------------------------------------

  /** Starts `work` ticks of work (full work or what was left of it) at `time`. */
  begin(tool: number, time: number, work: number, isStart = true): void {
    const end = time + work
    this.finish[tool] = end
    const strikes = isStart && this.striking[tool] >= 0
    if (work <= this.left[tool] && end < this.calendar[tool] && !strikes) {
      this.left[tool] -= work
      this.phase[tool] = PLAIN
      this.at[tool] = end
      return
    }
    this.phase[tool] = WATCHED
    this.watchedFrom[tool] = time
    const run = strikes ? 0 : this.left[tool]
    const strike = run < work ? time + run : Infinity
    // A calendar stop that could not strike while a load was handled is overdue.
    this.at[tool] = Math.max(time, Math.min(end, strike, this.calendar[tool]))
  }

  /** An event of a tool whose work is watched: true when the work has ended, else a stop strikes. */
  protected watchedEnds(tool: number, time: number): boolean {
    if (time < this.finish[tool]) return false
    this.countRun(tool, time)
    return true
  }

  protected countRun(tool: number, time: number): void {
    this.left[tool] -= time - this.watchedFrom[tool]
  }

  /** A stop strikes the tool in whatever phase it is, unless it waits for a good moment. */
  protected strike(tool: number, time: number): void {
    const phase = this.phase[tool]
    if (phase === WATCHED) this.countRun(tool, time)
    const stop = this.clocks.whichStrikes(tool, time, this.condition(tool, phase, time))
    if (this.defers(tool, stop, time)) {
      this.carryOn(tool, phase, time)
      return
    }
    this.heldPhase[tool] = phase === WATCHED ? PLAIN : phase
    if (phase === WATCHED) {
      this.heldWork[tool] = this.finish[tool] - time
      this.finish[tool] = time
    }
    if (phase === IDLE) this.idle.remove(tool)
    if (phase === FULL) this.full.remove(tool)
    this.goDown(tool, stop, time, this.lastsOf(tool, stop, time))
    this.suffer(tool, stop, time)
  }

  private condition(tool: number, phase: number, time: number): Condition {
    if (phase === WATCHED) return 'works'
    if (phase === FULL || phase === HELD) return 'full'
    if (phase !== IDLE) return 'other'
    return this.idleFrom[tool] < time ? 'starved' : 'empty'
  }

  /** A stop has become due, and the tool goes on in its phase. */
  private carryOn(tool: number, phase: number, time: number): void {
    if (phase === WATCHED) this.begin(tool, time, this.finish[tool] - time)
    else if (phase === IDLE) this.restOn(tool, time)
    else this.at[tool] = this.standsUntil(tool, time)
  }

  /** Until when a tool that is done stands, from `time` on, if it cannot hand over: the tick of the stop that comes into it. */
  protected standsUntil(tool: number, time: number): number {
    return Math.max(time, this.clocks.stands[tool])
  }

  /** An idle tool rests on from `time`. */
  protected restOn(tool: number, time: number): void {
    this.at[tool] = this.clocks.restsUntil(tool, time)
  }

  /** Takes the tool down for `lasts` ticks because of a stop, from when the people are there whom it needs. */
  goDown(tool: number, stop: number, time: number, lasts: number): void {
    const call = this.callOf(stop)
    const there = call ? this.thereFrom(tool, stop) : time
    this.enter(tool, there > time ? WAITING_FOR_CREW : this.stateUnderStop(stop), time)
    if (this.phase[tool] !== DOWN) this.downFrom[tool] = time
    this.stopFrom[tool] = time
    this.current[tool] = stop
    this.phase[tool] = DOWN
    this.at[tool] = Math.max(there, time) + lasts
    this.meter.stop[stop * STOP_COLUMNS + STOP_COUNT]++
    if (call && there > time) this.awaitPeople(tool, stop, call, time, lasts)
  }

  /** What the stop does to a piece in work. */
  protected suffer(tool: number, stop: number, time: number): void {
    if (this.heldPhase[tool] !== PLAIN || stop >= this.plan.stops.length) return
    const { fate, lose } = this.plan.stops[stop]
    if (fate === RESTART) this.heldWork[tool] = this.work[tool]
    else if (fate === LOSE) this.heldPhase[tool] = this.loseInside(tool, stop, Infinity, time)
    else if (fate === LOSE_SOME)
      this.heldPhase[tool] = this.loseInside(tool, stop, this.outcome.drawLoss(tool, lose), time)
  }

  /** Scraps up to `most` wafers of the piece in work. @returns the phase to go on with: IDLE when nothing is left of it */
  protected abstract loseInside(tool: number, stop: number, most: number, time: number): number

  /** The stop is over: the tool goes on where it was, unless another stop has been waiting or it must warm up. */
  protected comeUp(tool: number, time: number): void {
    const stop = this.current[tool]
    this.endWait(tool, time)
    this.recover(tool, time)
    this.enter(tool, this.stateUnder(this.heldPhase[tool]), time)
    this.current[tool] = -1
    this.meter.longest[stop] = Math.max(this.meter.longest[stop], time - this.stopFrom[tool])
    if (this.plan.stops[stop]?.kind === 'closed') {
      this.closedFrom[tool] = this.stopFrom[tool]
      this.closedTo[tool] = time
    }
    if (stop < this.plan.stops.length) this.renew(tool, stop, time)
    else this.clocks.watch(tool)
    if (stop === this.extraStop('warm-up')) this.downFrom[tool] = time
    if (!this.struckAgain(tool, time) && !this.warmsUp(tool, time))
      this.goOnAs(this.heldPhase[tool], tool, time)
  }

  /** After a long time down the tool warms up before it goes on; then it is warm, whatever stop follows at once. */
  private warmsUp(tool: number, time: number): boolean {
    const { warmUp } = this.plan
    if (!warmUp || time - this.downFrom[tool] <= warmUp.after) return false
    this.goDown(tool, this.extraStop('warm-up'), time, this.drawWarmUp[tool]())
    return true
  }

  /** A stop is over, and what is done along with it: their clocks count anew from `time`. */
  private renew(tool: number, stop: number, time: number): void {
    this.asNew(tool, stop, time)
    for (const other of this.plan.stops[stop].renews) this.asNew(tool, other, time)
    this.outcome.renewed(tool, stop, this.ahead(tool))
    this.clocks.watch(tool)
  }

  /** The clock of a stop starts anew, and what it makes good is as new. */
  private asNew(tool: number, stop: number, time: number): void {
    this.noLongerCalled(tool, stop)
    this.armed(tool, stop, this.clocks.rearm(tool, stop, time))
    this.treatment?.renewed(tool, stop)
  }

  /** Calendar stops that fell due while the tool was down. What has been done since, by people who were there, or has passed, does not strike. */
  private struckAgain(tool: number, time: number): boolean {
    while (this.calendar[tool] <= time) {
      const next = this.clocks.whichStrikes(tool, time, 'other')
      // An event that is over by now has stopped nothing here.
      if (this.clocks.endOf(tool, next) <= time) {
        this.renew(tool, next, time)
        continue
      }
      const there = this.thereFrom(tool, next)
      const since = there <= time ? there : this.doneSince(tool, next)
      const done = Math.max(0, (there <= time ? time : this.closedTo[tool]) - since)
      if (done === 0 && this.defers(tool, next, time)) continue
      const lasts = this.lastsOf(tool, next, time)
      if (lasts > done) {
        this.goDown(tool, next, time, lasts - done)
        this.suffer(tool, next, time)
        return true
      }
      this.meter.stop[next * STOP_COLUMNS + STOP_COUNT]++
      this.renew(tool, next, since + lasts)
    }
    return false
  }

  /** Planned work that needs nobody is done while the line is closed, from this tick on; Infinity: the stop is none of that kind. */
  private doneSince(tool: number, stop: number): number {
    const { kind, call } = this.plan.stops[stop]
    const endsItself = this.clocks.endOf(tool, stop) < Infinity
    if (call || kind === 'unscheduled' || kind === 'closed' || endsItself) return Infinity
    return Math.max(this.closedFrom[tool], this.clocks.dueOf(tool, stop))
  }

  /** Wafers inside that end before what is taken next. */
  protected ahead(_tool: number): number {
    return 0
  }

  /** Called when a stop is over, before anything else: one after idleness counts as work. */
  protected recover(tool: number, time: number): void {
    if (this.plan.stops[this.current[tool]]?.clock === IDLENESS) this.finish[tool] = time
  }

  private stateUnder(phase: number): number {
    return phase === IDLE ? STARVED : phase === PLAIN ? PRODUCTIVE : BLOCKED
  }

  /** Goes on in the phase in which a stop struck. */
  protected goOnAs(phase: number, tool: number, time: number): void {
    if (phase === PLAIN) this.begin(tool, time, this.heldWork[tool])
    else if (phase === FULL) this.waitForRoom(tool, time)
    else this.goIdle(tool, time)
  }

  /** The tool comes up with nothing in it. */
  protected abstract goIdle(tool: number, time: number): void

  /** The tool must be cleared of shards before it goes on, empty or (a batch tool) done. */
  protected clear(tool: number, time: number, lasts: number): void {
    this.heldPhase[tool] = this.phase[tool] > DOWN ? this.phase[tool] : IDLE
    this.goDown(tool, this.extraStop('clearing'), time, lasts)
  }

  // ---- places ------------------------------------------------------------------

  /** The tool has nothing in work and waits for wafers from `time` on. */
  protected becomeIdle(tool: number, time: number): void {
    this.enter(tool, STARVED, time)
    this.phase[tool] = IDLE
    this.idleFrom[tool] = time
    this.at[tool] = this.clocks.restsUntil(tool, time)
    this.idle.add(tool)
  }

  /** The tool is done and waits for a place. */
  protected waitForRoom(tool: number, time: number): void {
    this.enter(tool, BLOCKED, time)
    this.phase[tool] = FULL
    this.at[tool] = this.standsUntil(tool, time)
    this.full.add(tool)
  }
}
