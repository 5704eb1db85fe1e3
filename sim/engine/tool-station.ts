import { type ExtraStop, extraStops } from '../plan/extra-stops.ts'
import {
  type CallPlan,
  LOSE,
  LOSE_SOME,
  PIECES,
  RESTART,
  type StopClass,
  type ToolPlan,
  type TreatmentPlan,
} from '../plan/plan.ts'
import type { ActivePeriods } from './active.ts'
import { Calls } from './calls.ts'
import { drawer, type RunKey } from './draw.ts'
import {
  BLOCKED,
  LOST,
  NON_SCHEDULED,
  PRODUCTIVE,
  SCHEDULED_DOWN,
  STARVED,
  STATES,
  STOP_COLUMNS,
  STOP_COUNT,
  STOP_LOST,
  STOP_TIME,
  STOP_WAIT,
  UNSCHEDULED_DOWN,
  WAITING_FOR_CREW,
} from './meter.ts'
import { Outcome, type OutcomeHost } from './outcome.ts'
import { PassingStation } from './passing-station.ts'
import { DONE, DOWN, FULL, IDLE, LOADING, PLAIN, UNLOADING, WATCHED } from './phases.ts'
import type { Seat } from './station.ts'
import { StopClocks } from './stop-clocks.ts'
import { ToolQueue } from './tool-queue.ts'
import { Treatment } from './treatment.ts'

/** State of a tool under a stop of each class. */
const STATE_UNDER: Record<StopClass, number> = {
  unscheduled: UNSCHEDULED_DOWN,
  scheduled: SCHEDULED_DOWN,
  supply: SCHEDULED_DOWN,
  closed: NON_SCHEDULED,
}

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
  readonly rests: Float64Array
  readonly striking: Int16Array
  /** WATCHED work runs since this tick. */
  private readonly watchedFrom: Float64Array
  readonly idle: ToolQueue
  readonly full: ToolQueue
  protected readonly outcome: Outcome
  protected readonly treatment: Treatment | undefined
  readonly key: RunKey

  /** Where the active periods of the tools are written down; only when asked for. */
  protected active: ActivePeriods | undefined = undefined
  private firstActive = 0

  protected readonly clocks: StopClocks
  /** Stop that holds the tool down; -1: none. Those of the plan, then the clearing of shards, then the warm-up. */
  private readonly current: Int16Array
  /** Since when the tool is down, through all stops that follow each other. */
  private readonly downFrom: Float64Array
  /** The present stop began. */
  private readonly stopFrom: Float64Array
  /** Idle since. */
  readonly idleFrom: Float64Array
  readonly calls: Calls
  private readonly drawWarmUp: (() => number)[] = []

  constructor(
    override readonly plan: ToolPlan,
    seat: Seat,
    shiftChanges: readonly number[],
  ) {
    super(plan, seat)
    const { key } = seat
    this.key = key
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
    this.clocks = new StopClocks(plan, shiftChanges, key)
    this.left = this.clocks.left
    this.calendar = this.clocks.calendar
    this.rests = this.clocks.rests
    this.striking = this.clocks.striking
    this.watchedFrom = new Float64Array(n)
    this.idle = new ToolQueue(n)
    this.full = new ToolQueue(n)
    this.current = new Int16Array(n).fill(-1)
    this.downFrom = new Float64Array(n)
    this.stopFrom = new Float64Array(n)
    this.idleFrom = new Float64Array(n)
    this.calls = new Calls(this, n)
    for (let t = 0; t < n && plan.warmUp; t++)
      this.drawWarmUp.push(drawer(plan.warmUp.lasts, key, 1, plan.name, `tool ${t + 1}`, 'warm-up'))
    this.outcome = new Outcome(this, plan.outcome)
    this.outcome.readPieceStops(plan.stops)
    this.treatment = plan.treatment && this.treatmentOf(plan.treatment)
    for (let s = 0; s < plan.stops.length; s++)
      for (let t = 0; t < n; t++) this.armed(t, s, this.clocks.arm(t, s))
    for (let t = 0; t < n; t++) this.clocks.watch(t)
  }

  private treatmentOf(plan: TreatmentPlan): Treatment {
    const overdue = (tool: number) => this.clocks.overdue(tool)
    return new Treatment(plan, this.plan.step, this.wafers, overdue, this.name, this.tools, this.key)
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
    if (stop < 0) return
    this.meter.stop[stop * STOP_COLUMNS + STOP_TIME] += span
    if (this.state[tool] === WAITING_FOR_CREW) this.meter.stop[stop * STOP_COLUMNS + STOP_WAIT] += span
  }

  protected accrue(time: number): void {
    for (let tool = 0; tool < this.tools; tool++) {
      this.endWait(tool, time)
      this.book(tool, time)
    }
  }

  /** A tool that people have reached by `time` waits no longer since then. */
  private endWait(tool: number, time: number): void {
    if (this.state[tool] !== WAITING_FOR_CREW || this.calls.reached[tool] > time) return
    this.enter(tool, this.stateUnderStop(this.current[tool]), this.calls.reached[tool])
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

  /** A stop strikes the tool in whatever phase it is, unless it waits for a good moment. */
  protected strike(tool: number, time: number): void {
    const phase = this.phase[tool]
    if (phase === WATCHED) this.countRun(tool, time)
    const stop = this.clocks.whichStrikes(tool, time, this.condition(tool, phase, time))
    if (this.clocks.defers(tool, stop, time)) {
      this.carryOn(tool, phase, time)
      return
    }
    this.heldPhase[tool] = phase === WATCHED ? PLAIN : phase
    if (phase === WATCHED) this.heldWork[tool] = this.finish[tool] - time
    if (phase === IDLE) this.idle.remove(tool)
    if (phase === FULL) this.full.remove(tool)
    this.goDown(tool, stop, time, this.clocks.drawLasts(tool, stop, time))
    this.suffer(tool, stop, time)
  }

  private condition(tool: number, phase: number, time: number): 'works' | 'empty' | 'starved' | 'other' {
    if (phase === WATCHED) return 'works'
    if (phase !== IDLE) return 'other'
    return this.idleFrom[tool] < time ? 'starved' : 'empty'
  }

  /** A stop has become due, and the tool goes on in its phase. */
  private carryOn(tool: number, phase: number, time: number): void {
    if (phase === WATCHED) this.begin(tool, time, this.finish[tool] - time)
    else if (phase === IDLE) this.restOn(tool, time)
    else this.at[tool] = Math.max(time, this.calendar[tool])
  }

  /** An idle tool rests on from `time`. */
  protected restOn(tool: number, time: number): void {
    this.at[tool] = this.clocks.restsUntil(tool, time)
  }

  /** Takes the tool down for `lasts` ticks because of a stop, from when the people are there whom it needs. */
  goDown(tool: number, stop: number, time: number, lasts: number): void {
    const call = this.callOf(stop)
    this.enter(tool, call ? WAITING_FOR_CREW : this.stateUnderStop(stop), time)
    if (this.phase[tool] !== DOWN) this.downFrom[tool] = time
    this.stopFrom[tool] = time
    this.current[tool] = stop
    this.phase[tool] = DOWN
    this.at[tool] = call ? Infinity : time + lasts
    this.meter.stop[stop * STOP_COLUMNS + STOP_COUNT]++
    if (call) this.calls.call(tool, call, time, lasts)
  }

  granted(tool: number, reached: number): void {
    this.at[tool] = this.calls.granted(tool, reached)
  }

  /** Before this tick the tool's next event does not come, whenever people reach it. */
  protected upAt(tool: number): number {
    return this.calls.waiting(tool) ? this.calls.earliestUp() : this.at[tool]
  }

  private callOf(stop: number): CallPlan | undefined {
    if (stop < this.plan.stops.length) return this.plan.stops[stop].call
    return stop === this.extraStop('clearing') ? this.plan.outcome.clearing?.call : undefined
  }

  /** Number of a stop that is not among those of the plan; -1: the step has none. */
  protected extraStop(name: ExtraStop): number {
    const place = extraStops(this.plan).indexOf(name)
    return place < 0 ? -1 : this.plan.stops.length + place
  }

  private stateUnderStop(stop: number): number {
    if (stop < this.plan.stops.length) return STATE_UNDER[this.plan.stops[stop].kind]
    return stop === this.extraStop('clearing') ? UNSCHEDULED_DOWN : SCHEDULED_DOWN
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

  protected bookLoss(stop: number, wafers: number): void {
    this.meter.counter[LOST] += wafers
    this.meter.stop[stop * STOP_COLUMNS + STOP_LOST] += wafers
  }

  /** The stop is over: the tool goes on where it was, unless it must warm up or another stop has been waiting. */
  protected comeUp(tool: number, time: number): void {
    const stop = this.current[tool]
    this.endWait(tool, time)
    this.recover(tool, time)
    this.enter(tool, this.stateUnder(this.heldPhase[tool]), time)
    this.current[tool] = -1
    this.meter.longest[stop] = Math.max(this.meter.longest[stop], time - this.stopFrom[tool])
    if (stop < this.plan.stops.length) {
      this.armed(tool, stop, this.clocks.rearm(tool, stop, time))
      this.treatment?.renewed(tool, stop)
    }
    this.clocks.watch(tool)
    if (!this.warmsUp(tool, stop, time) && !this.struckAgain(tool, time))
      this.goOnAs(this.heldPhase[tool], tool, time)
  }

  /** After a long time down the tool warms up before it goes on. */
  private warmsUp(tool: number, stop: number, time: number): boolean {
    const { warmUp } = this.plan
    const warming = this.extraStop('warm-up')
    if (!warmUp || stop === warming || time - this.downFrom[tool] <= warmUp.after) return false
    this.goDown(tool, warming, time, this.drawWarmUp[tool]())
    return true
  }

  /** Calendar stops that fell due while the tool was down. */
  private struckAgain(tool: number, time: number): boolean {
    while (this.calendar[tool] <= time) {
      const next = this.clocks.whichStrikes(tool, time, 'other')
      if (this.clocks.defers(tool, next, time)) continue
      this.goDown(tool, next, time, this.clocks.drawLasts(tool, next, time))
      this.suffer(tool, next, time)
      return true
    }
    return false
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
    this.goDown(tool, this.extraStop('clearing'), time, lasts)
  }

  private armed(tool: number, stop: number, every: number): void {
    if (this.plan.stops[stop].clock === PIECES) this.outcome.armPieceStop(tool, stop, every)
  }

  /** A piece stop is due. @returns false when another one strikes the next piece already */
  strikeNext(tool: number, stop: number, time: number): boolean {
    return this.clocks.strikeNext(tool, stop, time)
  }

  // ---- calls for people --------------------------------------------------------

  /**
   * Before this tick no stop or breakage of this station calls for people, beyond the
   * calls that are made. From the clocks of the stops: the nearest must run down first.
   */
  callsNotBefore(): number {
    let bound = Infinity
    for (let t = 0; t < this.tools; t++)
      if (!this.calls.waiting(t)) bound = Math.min(bound, this.nextStopFrom(t))
    return bound
  }

  private nextStopFrom(tool: number): number {
    const from = Math.max(this.now, this.earliestTake)
    const phase = this.phase[tool]
    if (phase === DOWN || phase === LOADING || phase === UNLOADING) return this.at[tool]
    const works = phase === PLAIN || phase === WATCHED
    const soon = this.striking[tool] >= 0 || this.clocks.waiting > 0 || phase === DONE
    if (soon) return works ? this.at[tool] : from
    const runs = phase === WATCHED ? this.at[tool] : (works ? this.finish[tool] : from) + this.left[tool]
    return Math.min(runs, this.rests[tool], this.nextPieceCall(tool, from))
  }

  /** Before this tick no wafer (or load) ends at which the tool calls for people, if nothing happens before `from`. */
  protected abstract nextPieceCall(tool: number, from: number): number

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
    this.at[tool] = Math.max(time, this.calendar[tool])
    this.full.add(tool)
  }
}
