import { LOSE, LOSE_SOME, PIECES, RESTART, type ToolPlan } from '../plan/plan.ts'
import type { ActivePeriods } from './active.ts'
import type { Channel } from './channel.ts'
import type { RunKey } from './draw.ts'
import {
  BLOCKED,
  LOST,
  type Meter,
  PRODUCTIVE,
  SCHEDULED_DOWN,
  STARVED,
  STATES,
  STOP_COLUMNS,
  STOP_COUNT,
  STOP_LOST,
  STOP_TIME,
  UNSCHEDULED_DOWN,
} from './meter.ts'
import { Outcome, type OutcomeHost } from './outcome.ts'
import { PassingStation } from './passing-station.ts'
import { DOWN, FULL, IDLE, PLAIN, WATCHED } from './phases.ts'
import { StopClocks } from './stop-clocks.ts'
import { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

/**
 * Tools side by side with their stops and the outcome of their work: what single-wafer,
 * belt and batch stations share. While a tool is down its calendar stops wait for it to
 * come up again.
 */
export abstract class ToolStation extends PassingStation implements OutcomeHost {
  readonly tools: number
  readonly pieces: 'wafers' | 'loads'
  /** Tick of each tool's next event, Infinity when none. */
  readonly at: Float64Array
  readonly phase: Uint8Array
  /** Phase under a stop, and work left when the tool comes up [ticks]. */
  protected readonly heldPhase: Uint8Array
  protected readonly heldWork: Float64Array
  /** End of the work if nothing stops it. */
  readonly finish: Float64Array
  /** Full length of the present work. */
  readonly work: Float64Array
  /** State of the meter, and the tick up to which it has been booked. */
  readonly since: Float64Array
  readonly state: Uint8Array
  /** The stops' clocks that the work looks at, see StopClocks. */
  readonly left: Float64Array
  readonly calendar: Float64Array
  readonly striking: Int16Array
  /** WATCHED work runs since this tick. */
  private readonly watchedFrom: Float64Array
  readonly idle: ToolQueue
  readonly full: ToolQueue
  protected readonly outcome: Outcome

  /** Where the active periods of the tools are written down; only when asked for. */
  protected active: ActivePeriods | undefined = undefined
  private firstActive = 0

  protected readonly clocks: StopClocks
  /** Stop that holds the tool down; -1: none. */
  private readonly current: Int16Array

  constructor(
    override readonly plan: ToolPlan,
    position: number,
    inputs: readonly Channel[],
    outputs: readonly Channel[],
    meter: Meter,
    wafers: Wafers,
    readonly key: RunKey,
  ) {
    super(plan, position, inputs, outputs, meter, wafers)
    const n = plan.tools
    this.tools = n
    this.pieces = plan.kind === 'batch' ? 'loads' : 'wafers'
    this.at = new Float64Array(n).fill(Infinity)
    this.phase = new Uint8Array(n)
    this.heldPhase = new Uint8Array(n)
    this.heldWork = new Float64Array(n)
    this.finish = new Float64Array(n)
    this.work = new Float64Array(n)
    this.since = new Float64Array(n)
    this.state = new Uint8Array(n).fill(STARVED)
    this.clocks = new StopClocks(plan, key)
    this.left = this.clocks.left
    this.calendar = this.clocks.calendar
    this.striking = this.clocks.striking
    this.watchedFrom = new Float64Array(n)
    this.idle = new ToolQueue(n)
    this.full = new ToolQueue(n)
    this.current = new Int16Array(n).fill(-1)
    this.outcome = new Outcome(this, plan.outcome)
    this.outcome.readPieceStops(plan.stops.length)
    for (let s = 0; s < plan.stops.length; s++) for (let t = 0; t < n; t++) this.rearm(t, s, 0)
    for (let t = 0; t < n; t++) this.clocks.watch(t)
  }

  // ---- states ------------------------------------------------------------------

  /** Books the time since the last change and enters a state. */
  protected enter(tool: number, state: number, time: number): void {
    this.book(tool, time)
    this.state[tool] = state
  }

  /** Writes down the active periods of the tools, from the start of the run on. */
  recordActive(record: ActivePeriods): void {
    this.active = record
    this.firstActive = record.add(this.tools)
  }

  protected book(tool: number, time: number): void {
    const span = time - this.since[tool]
    this.active?.held(this.firstActive + tool, this.state[tool], this.since[tool], time)
    this.since[tool] = time
    this.meter.state[tool * STATES + this.state[tool]] += span
    const stop = this.current[tool]
    if (stop >= 0) this.meter.stop[stop * STOP_COLUMNS + STOP_TIME] += span
  }

  protected accrue(time: number): void {
    for (let tool = 0; tool < this.tools; tool++) this.book(tool, time)
  }

  // ---- work and stops ----------------------------------------------------------

  /** Starts `work` ticks of work (full work or what was left of it) at `time`. */
  begin(tool: number, time: number, work: number): void {
    const end = time + work
    this.finish[tool] = end
    if (work <= this.left[tool] && end < this.calendar[tool] && this.striking[tool] < 0) {
      this.left[tool] -= work
      this.phase[tool] = PLAIN
      this.at[tool] = end
      return
    }
    this.phase[tool] = WATCHED
    this.watchedFrom[tool] = time
    const run = this.striking[tool] >= 0 ? 0 : this.left[tool]
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

  /** A stop strikes the tool in whatever phase it is. */
  protected strike(tool: number, time: number): void {
    const phase = this.phase[tool]
    if (phase === WATCHED) this.countRun(tool, time)
    const stop = this.clocks.whichStrikes(tool, time, phase === WATCHED)
    this.heldPhase[tool] = phase === WATCHED ? PLAIN : phase
    if (phase === WATCHED) this.heldWork[tool] = this.finish[tool] - time
    if (phase === IDLE) this.idle.remove(tool)
    if (phase === FULL) this.full.remove(tool)
    this.goDown(tool, stop, time, this.clocks.drawLasts(tool, stop))
    this.suffer(tool, stop, time)
  }

  /** Takes the tool down for `lasts` ticks because of a stop. */
  goDown(tool: number, stop: number, time: number, lasts: number): void {
    const scheduled = stop < this.plan.stops.length && this.plan.stops[stop].scheduled
    this.enter(tool, scheduled ? SCHEDULED_DOWN : UNSCHEDULED_DOWN, time)
    this.current[tool] = stop
    this.phase[tool] = DOWN
    this.at[tool] = time + lasts
    this.meter.stop[stop * STOP_COLUMNS + STOP_COUNT]++
    if (lasts > this.meter.longest[stop]) this.meter.longest[stop] = lasts
  }

  /** What the stop does to a piece in work. */
  protected suffer(tool: number, stop: number, time: number): void {
    if (this.heldPhase[tool] !== PLAIN) return
    const { fate, lose } = this.plan.stops[stop]
    if (fate === RESTART) this.heldWork[tool] = this.work[tool]
    else if (fate === LOSE) this.heldPhase[tool] = this.loseInside(tool, stop, Infinity, time)
    else if (fate === LOSE_SOME)
      this.heldPhase[tool] = this.loseInside(tool, stop, this.outcome.drawLoss(tool, lose), time)
  }

  /** Scraps up to `most` wafers of the piece in work. @returns the phase to go on with: IDLE when nothing is left of it */
  protected abstract loseInside(tool: number, stop: number, most: number, time: number): number

  protected bookLoss(stop: number, wafers: number): void {
    this.meter.counter[LOST] += wafers
    this.meter.stop[stop * STOP_COLUMNS + STOP_LOST] += wafers
  }

  /** The stop is over: the tool goes on where it was, unless another stop has been waiting. */
  protected comeUp(tool: number, time: number): void {
    const stop = this.current[tool]
    this.recover(tool, time)
    this.enter(tool, this.stateUnder(this.heldPhase[tool]), time)
    this.current[tool] = -1
    if (stop < this.plan.stops.length) this.rearm(tool, stop, time)
    this.clocks.watch(tool)
    if (this.calendar[tool] <= time) {
      const next = this.clocks.whichStrikes(tool, time, false)
      this.goDown(tool, next, time, this.clocks.drawLasts(tool, next))
      this.suffer(tool, next, time)
      return
    }
    this.goOnAs(this.heldPhase[tool], tool, time)
  }

  /** Called when a stop is over, before anything else. */
  protected recover(_tool: number, _time: number): void {}

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
    this.goDown(tool, this.plan.stops.length, time, lasts)
  }

  private rearm(tool: number, stop: number, time: number): void {
    const every = this.clocks.rearm(tool, stop, time)
    if (this.plan.stops[stop].clock === PIECES) this.outcome.armPieceStop(tool, stop, every)
  }

  /** A piece stop is due. @returns false when another one strikes the next piece already */
  strikeNext(tool: number, stop: number): boolean {
    return this.clocks.strikeNext(tool, stop)
  }

  // ---- places ------------------------------------------------------------------

  /** The tool has nothing in work and waits for wafers from `time` on. */
  protected becomeIdle(tool: number, time: number): void {
    this.enter(tool, STARVED, time)
    this.phase[tool] = IDLE
    this.at[tool] = Math.max(time, this.calendar[tool])
    this.idle.add(tool)
  }

  /** The tool is done and waits for a place. */
  protected waitForRoom(tool: number, time: number): void {
    this.enter(tool, BLOCKED, time)
    this.phase[tool] = FULL
    this.at[tool] = Math.max(time, this.calendar[tool])
    this.full.add(tool)
  }
}
