import {
  CALENDAR,
  LOSE,
  LOSE_SOME,
  PIECES,
  type Plan,
  RESTART,
  RUNNING,
  type ToolPlan,
} from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import { drawer, type RunKey } from './draw.ts'
import {
  BLOCKED,
  LOST,
  LOST_STAY_SUM,
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
import { Station } from './station.ts'
import { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

/** Phases of a tool. */
export const IDLE = 0
/** Working, and nothing but the end of the work comes next. */
export const PLAIN = 1
/** Working, and a stop may come first: `at` holds the earlier of both. */
export const WATCHED = 2
/** Done, waiting for a place for what it holds. */
export const FULL = 3
export const DOWN = 4

/**
 * Tools side by side with their stops and the outcome of their work: what single-wafer,
 * belt and batch stations share. The clocks of the stops:
 *
 * - running time is counted down in `left` while the tool works; when the work is
 *   longer than what is left, the stop strikes within it (at equality: at the start of
 *   the next);
 * - calendar time is an absolute tick in `calendar`, and strikes in any phase;
 * - pieces are counted in the outcome, and strike at the start of the next piece.
 *
 * While a tool is down its other calendar stops wait for it to come up again.
 */
export abstract class ToolStation extends Station implements OutcomeHost {
  readonly tools: number
  readonly pieces: 'wafers' | 'loads'
  /** Good wafers leave the line here. */
  readonly exit: boolean
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
  /** Running time to the next such stop; next calendar stop. */
  readonly left: Float64Array
  readonly calendar: Float64Array
  /** WATCHED work runs since this tick. */
  private readonly watchedFrom: Float64Array
  readonly idle: ToolQueue
  readonly full: ToolQueue
  protected readonly outcome: Outcome

  /** Stop s of tool t at s * tools + t: what is left until it strikes (running, pieces) or when (calendar). */
  private readonly due: Float64Array
  private readonly span: Float64Array
  /** Stop that holds the tool down, or strikes at the next start; -1: none. */
  private readonly current: Int16Array
  readonly striking: Int16Array
  private readonly drawEvery: (() => number)[] = []
  private readonly drawLasts: (() => number)[] = []

  constructor(
    readonly plan: ToolPlan,
    position: number,
    inputs: readonly Channel[],
    outputs: readonly Channel[],
    meter: Meter,
    wafers: Wafers,
    readonly key: RunKey,
    private readonly bins: Plan['bins'],
  ) {
    super(position, plan.name, inputs, outputs, meter, wafers)
    const n = plan.tools
    this.tools = n
    this.pieces = plan.kind === 'batch' ? 'loads' : 'wafers'
    this.exit = plan.outputs.length === 0
    this.at = new Float64Array(n).fill(Infinity)
    this.phase = new Uint8Array(n)
    this.heldPhase = new Uint8Array(n)
    this.heldWork = new Float64Array(n)
    this.finish = new Float64Array(n)
    this.work = new Float64Array(n)
    this.since = new Float64Array(n)
    this.state = new Uint8Array(n).fill(STARVED)
    this.left = new Float64Array(n).fill(Infinity)
    this.calendar = new Float64Array(n).fill(Infinity)
    this.watchedFrom = new Float64Array(n)
    this.idle = new ToolQueue(n)
    this.full = new ToolQueue(n)
    this.due = new Float64Array(n * plan.stops.length)
    this.span = new Float64Array(n).fill(Infinity)
    this.current = new Int16Array(n).fill(-1)
    this.striking = new Int16Array(n).fill(-1)
    for (const stop of plan.stops)
      for (let t = 0; t < n; t++) {
        const name = [plan.name, `tool ${t + 1}`, stop.name]
        this.drawEvery.push(drawer(stop.every, key, 1, ...name, 'every'))
        this.drawLasts.push(drawer(stop.lasts, key, 1, ...name, 'lasts'))
      }
    this.outcome = new Outcome(this, plan.outcome)
    this.outcome.readPieceStops(plan.stops.length)
    for (let s = 0; s < plan.stops.length; s++) for (let t = 0; t < n; t++) this.rearm(t, s, 0)
    for (let t = 0; t < n; t++) this.watch(t)
  }

  // ---- states ------------------------------------------------------------------

  /** Books the time since the last change and enters a state. */
  protected enter(tool: number, state: number, time: number): void {
    this.book(tool, time)
    this.state[tool] = state
  }

  protected book(tool: number, time: number): void {
    const span = time - this.since[tool]
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
    const stop = this.whichStop(tool, time)
    this.heldPhase[tool] = phase === WATCHED ? PLAIN : phase
    if (phase === WATCHED) this.heldWork[tool] = this.finish[tool] - time
    if (phase === IDLE) this.idle.remove(tool)
    if (phase === FULL) this.full.remove(tool)
    this.goDown(tool, stop, time, this.drawLasts[stop * this.tools + tool]())
    this.suffer(tool, stop, time)
  }

  /** The stop that is due: one that waits for the next piece, then by running time, then by calendar; the first named first. */
  private whichStop(tool: number, time: number): number {
    const waiting = this.striking[tool]
    if (waiting >= 0 && this.phase[tool] === WATCHED) {
      this.striking[tool] = -1
      return waiting
    }
    this.syncRun(tool)
    for (let s = 0; s < this.plan.stops.length; s++) {
      const due = this.due[s * this.tools + tool]
      const clock = this.plan.stops[s].clock
      if (clock === RUNNING && due <= 0 && this.phase[tool] === WATCHED) return s
      if (clock === CALENDAR && due <= time) return s
    }
    throw new Error(`no stop is due at ${this.name}`)
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
    this.watch(tool)
    if (this.calendar[tool] <= time) {
      const next = this.whichStop(tool, time)
      this.goDown(tool, next, time, this.drawLasts[next * this.tools + tool]())
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

  /** Sets a stop's clock anew at `time`. */
  private rearm(tool: number, stop: number, time: number): void {
    const index = stop * this.tools + tool
    const every = this.drawEvery[index]()
    const clock = this.plan.stops[stop].clock
    if (clock === PIECES) this.outcome.armPieceStop(tool, stop, every)
    else {
      if (clock === RUNNING) this.syncRun(tool)
      this.due[index] = clock === CALENDAR ? time + every : every
    }
  }

  /** Moves the running time that has passed from the common count to each stop. */
  private syncRun(tool: number): void {
    const run = this.span[tool] - this.left[tool]
    if (!(run > 0)) return
    for (let s = 0; s < this.plan.stops.length; s++)
      if (this.plan.stops[s].clock === RUNNING) this.due[s * this.tools + tool] -= run
    this.span[tool] = this.left[tool]
  }

  /** Finds the nearest running and calendar stop. */
  private watch(tool: number): void {
    this.syncRun(tool)
    let run = Infinity
    let calendar = Infinity
    for (let s = 0; s < this.plan.stops.length; s++) {
      const due = this.due[s * this.tools + tool]
      if (this.plan.stops[s].clock === RUNNING) run = Math.min(run, due)
      if (this.plan.stops[s].clock === CALENDAR) calendar = Math.min(calendar, due)
    }
    this.left[tool] = this.span[tool] = run
    this.calendar[tool] = calendar
  }

  /** A piece stop is due: it strikes at the start of the next piece. @returns false when another one already will */
  strikeNext(tool: number, stop: number): boolean {
    if (this.striking[tool] >= 0) return false
    this.striking[tool] = stop
    return true
  }

  // ---- wafers that do not go on ------------------------------------------------

  /** A wafer leaves the line as a loss. */
  removeWafer(wafer: number, time: number): void {
    this.meter.counter[LOST_STAY_SUM] += time - this.wafers.birth[wafer]
    this.countGone(time)
    this.wafers.release(wafer)
  }

  /** A wafer goes to the rework channel, the last output. */
  sendBack(wafer: number, time: number): void {
    const channel = this.outputs[this.outputs.length - 1]
    channel.put(wafer, time)
    this.countFlow(this.inputs.length + this.outputs.length - 1, time)
  }

  /** A tested cell falls into its bin; bin 0 is the box below the lowest. */
  sort(efficiency: number): void {
    const bins = this.bins
    if (!bins) return
    const bin = 1 + Math.floor((efficiency - bins.first) / bins.width)
    this.meter.bin[Math.min(Math.max(bin, 0), bins.count)]++
  }

  /** Hands a good wafer out of the line. */
  protected leave(wafer: number, time: number): void {
    const { birth, efficiency } = this.wafers
    this.meter.leave(time - birth[wafer], efficiency.length > 0 ? efficiency[wafer] : 0)
    this.countGone(time)
    this.wafers.release(wafer)
  }

  private countGone(time: number): void {
    this.countFlow(this.inputs.length + this.outputs.length, time)
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
