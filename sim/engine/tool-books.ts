import { type ExtraStop, extraStops } from '../plan/extra-stops.ts'
import type { CallPlan, ToolPlan, TreatmentPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import type { ActivePeriods } from './active.ts'
import { Calls } from './calls.ts'
import { Closings } from './closings.ts'
import { drawer, type RunKey } from './draw.ts'
import * as Books from './meter.ts'
import { Outcome, type OutcomeHost } from './outcome.ts'
import { PassingStation } from './passing-station.ts'
import * as Phases from './phases.ts'
import type { Seat } from './station.ts'
import { StopClocks } from './stop-clocks.ts'
import * as Fields from './tool-fields.ts'
import { ToolFields } from './tool-fields.ts'
import { ToolQueue } from './tool-queue.ts'
import { Treatment } from './treatment.ts'

const { PIECES } = Plans
const {
  HELD_TIME,
  LOST,
  NON_SCHEDULED,
  SCHEDULED_DOWN,
  STARVED,
  STATE_UNDER,
  STATES,
  STOP_COLUMNS,
  STOP_LOST,
  STOP_TIME,
  STOP_WAIT,
  UNSCHEDULED_DOWN,
  WAITING_FOR_CREW,
} = Books
const { HELD } = Phases
const { AT, FINISH, IDLE_FROM, PHASE, SINCE, STATE, WORK } = Fields

/** Tools side by side: what each is doing, and the books of its states. */
export abstract class ToolBooks extends PassingStation implements OutcomeHost {
  readonly tools: number
  readonly pieces: 'wafers' | 'loads'
  /** What follows, up to `idleFrom`, in one array for the fast loops. */
  readonly fields: ToolFields
  /** Tick of each tool's next event, Infinity when none. */
  readonly at: Float64Array
  readonly phase: Float64Array
  /** Phase under a stop, and work left when the tool comes up [ticks]. */
  protected readonly heldPhase: Uint8Array
  readonly heldWork: Float64Array
  /** End of the work if nothing stops it. */
  readonly finish: Float64Array
  /** Full length of the present work. */
  readonly work: Float64Array
  /** State of the meter, and the tick up to which it has been booked. */
  readonly since: Float64Array
  readonly state: Float64Array
  /** The stops' clocks that the work looks at, see StopClocks. */
  readonly left: Float64Array
  readonly calendar: Float64Array
  readonly rests: Float64Array
  readonly stands: Float64Array
  readonly striking: Float64Array
  /** WATCHED work runs since this tick. */
  protected readonly watchedFrom: Float64Array
  readonly idle: ToolQueue
  readonly full: ToolQueue
  protected readonly outcome: Outcome
  readonly treatment: Treatment | undefined
  readonly key: RunKey

  /** Where the active periods of the tools are written down; only when asked for. */
  protected active: ActivePeriods | undefined = undefined
  private firstActive = 0

  protected readonly clocks: StopClocks
  /** Longest time without work after which no stop is due [ticks]. */
  readonly idleLimit: number
  /** Stop that holds the tool down; -1: none. Those of the plan, then the clearing of shards, then the warm-up. */
  protected readonly current: Int16Array
  /** Since when the tool is down, through all stops that follow each other. */
  protected readonly downFrom: Float64Array
  /** The present stop began. */
  protected readonly stopFrom: Float64Array
  /** Idle since. */
  readonly idleFrom: Float64Array
  readonly calls: Calls
  private readonly closings: Closings | undefined
  protected readonly drawWarmUp: (() => number)[] = []

  constructor(
    override readonly plan: ToolPlan,
    seat: Seat,
  ) {
    super(plan, seat)
    const { key } = seat
    this.key = key
    const n = plan.tools
    this.tools = n
    this.pieces = plan.kind === 'batch' ? 'loads' : 'wafers'
    this.fields = new ToolFields(n)
    this.at = this.fields.of(AT).fill(Infinity)
    this.phase = this.fields.of(PHASE)
    this.heldPhase = new Uint8Array(n)
    this.heldWork = new Float64Array(n)
    this.finish = this.fields.of(FINISH)
    this.work = this.fields.of(WORK)
    this.since = this.fields.of(SINCE)
    this.state = this.fields.of(STATE).fill(STARVED)
    this.clocks = new StopClocks(plan, key, this.fields)
    this.idleLimit = this.clocks.idle.longest
    this.left = this.clocks.left
    this.calendar = this.clocks.calendar
    this.rests = this.clocks.rests
    this.stands = this.clocks.stands
    this.striking = this.clocks.striking
    this.watchedFrom = new Float64Array(n)
    this.idle = new ToolQueue(n)
    this.full = new ToolQueue(n)
    this.current = new Int16Array(n).fill(-1)
    this.downFrom = new Float64Array(n)
    this.stopFrom = new Float64Array(n)
    this.idleFrom = this.fields.of(IDLE_FROM)
    this.calls = new Calls(this, n)
    this.closings = Closings.among(plan.stops)
    for (let t = 0; t < n && plan.warmUp; t++)
      this.drawWarmUp.push(drawer(plan.warmUp.lasts, key, 1, plan.name, `tool ${t + 1}`, 'warm-up'))
    this.outcome = new Outcome(this, plan.outcome)
    this.treatment = plan.treatment && this.treatmentOf(plan.treatment)
  }

  override open(): void {
    const { stops } = this.plan
    this.outcome.readStops(stops)
    for (let s = 0; s < stops.length; s++)
      for (let t = 0; t < this.tools; t++) this.armed(t, s, this.clocks.arm(t, s))
    for (let t = 0; t < this.tools; t++) this.clocks.watch(t)
  }

  private treatmentOf(plan: TreatmentPlan): Treatment {
    const overdue = (tool: number, ended: number) => this.clocks.overdue(tool, ended)
    return new Treatment(plan, this.plan.step, this.wafers, overdue, this.name, this.tools, this.key)
  }

  // ---- states ------------------------------------------------------------------

  /** Books the time since the last change and enters a state. */
  protected enter(tool: number, state: number, time: number): void {
    this.book(tool, time)
    this.state[tool] = state
  }

  /**
   * State that a tool has been in just before `time`, up to which the line has been run, for who looks on.
   * The field lags behind: that people have come is written down when the stop is over.
   */
  stateBefore(tool: number, time: number): number {
    const state = this.state[tool]
    // Half a tick before, so that an edge at `time` does not count yet.
    if (this.current[tool] >= 0 && this.closings?.isClosed(time - 0.5)) return NON_SCHEDULED
    return state === WAITING_FOR_CREW && this.calls.reached[tool] < time
      ? this.stateUnderStop(this.current[tool])
      : state
  }

  /** Writes down the active periods of the tools, from the start of the run on. */
  recordActive(record: ActivePeriods): void {
    this.active = record
    this.firstActive = record.add(this.tools)
  }

  protected book(tool: number, time: number): void {
    const from = this.since[tool]
    this.since[tool] = time
    if (this.phase[tool] === HELD) this.meter.counter[HELD_TIME] += time - from
    const stop = this.current[tool]
    if (stop < 0) this.bookAs(tool, this.state[tool], from, time)
    else this.bookStop(tool, stop, from, time)
  }

  /** A tool that is down while the line is closed is not scheduled for work then: the stop costs none of that time. */
  private bookStop(tool: number, stop: number, from: number, to: number): void {
    const { closings } = this
    if (!closings || this.state[tool] === NON_SCHEDULED) {
      this.bookDown(tool, stop, from, to)
      return
    }
    for (let time = from; time < to; ) {
      const end = Math.min(to, closings.nextEdge(time))
      if (closings.isClosed(time)) this.bookAs(tool, NON_SCHEDULED, time, end)
      else this.bookDown(tool, stop, time, end)
      time = end
    }
  }

  private bookDown(tool: number, stop: number, from: number, to: number): void {
    this.bookAs(tool, this.state[tool], from, to)
    this.meter.stop[stop * STOP_COLUMNS + STOP_TIME] += to - from
    if (this.state[tool] === WAITING_FOR_CREW) this.meter.stop[stop * STOP_COLUMNS + STOP_WAIT] += to - from
  }

  /** The one place where time of a tool enters the books. */
  protected bookAs(tool: number, state: number, from: number, to: number): void {
    this.active?.held(this.firstActive + tool, state, from, to)
    this.meter.state[tool * STATES + state] += to - from
  }

  protected accrue(time: number): void {
    for (let tool = 0; tool < this.tools; tool++) {
      this.endWait(tool, time)
      this.book(tool, time)
    }
  }

  /** A tool that people have reached by `time` waits no longer since then. */
  protected endWait(tool: number, time: number): void {
    if (this.state[tool] !== WAITING_FOR_CREW || this.calls.reached[tool] > time) return
    this.enter(tool, this.stateUnderStop(this.current[tool]), this.calls.reached[tool])
  }

  // ---- stops ------------------------------------------------------------------

  /** Wafers lost by a stop. */
  bookLoss(stop: number, wafers: number): void {
    this.meter.counter[LOST] += wafers
    this.meter.stop[stop * STOP_COLUMNS + STOP_LOST] += wafers
  }

  protected armed(tool: number, stop: number, every: number): void {
    if (this.plan.stops[stop].clock === PIECES) this.outcome.armPieceStop(tool, stop, every)
  }

  /** A piece stop is due. @returns false when another one strikes the next piece already */
  abstract strikeNext(tool: number, stop: number, time: number): boolean

  protected callOf(stop: number): CallPlan | undefined {
    if (stop < this.plan.stops.length) return this.plan.stops[stop].call
    return stop === this.extraStop('clearing') ? this.plan.outcome.clearing?.call : undefined
  }

  /** Number of a stop that is not among those of the plan; -1: the step has none. */
  protected extraStop(name: ExtraStop): number {
    const place = extraStops(this.plan).indexOf(name)
    return place < 0 ? -1 : this.plan.stops.length + place
  }

  protected stateUnderStop(stop: number): number {
    if (stop < this.plan.stops.length) return STATE_UNDER[this.plan.stops[stop].kind]
    return stop === this.extraStop('clearing') ? UNSCHEDULED_DOWN : SCHEDULED_DOWN
  }

  /** As `DeskMember` has them, which these tools are. */
  abstract callsNotBefore(): number
  abstract granted(tool: number, reached: number): void
}
