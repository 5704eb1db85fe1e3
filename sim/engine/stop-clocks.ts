import { mean } from '../chance/law.ts'
import { remainingOf } from '../chance/remaining.ts'
import { openStream } from '../chance/streams.ts'
import type { StopPlan, ToolPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'
import { leftAtRandom } from './earlier-stops.ts'
import { IdleLimits } from './idle-limits.ts'
import { nextInWeek, Occasions } from './occasions.ts'
import type { ToolFields } from './tool-fields.ts'
import * as Fields from './tool-fields.ts'

const { AT_ONCE, AT_SHIFT_CHANGE, CALENDAR, RUNNING, WHEN_EMPTY, WHEN_PEOPLE_COME, WHEN_STARVED } = Plans
const { LEFT, RESTS, STANDS, STRIKING } = Fields

/** What a tool does that a stop may strike; `starved`: empty since before now; `full`: done, without a place. */
export type Condition = 'works' | 'empty' | 'starved' | 'full' | 'other'

/**
 * When the stops of a station's tools are due. Three clocks:
 *
 * - running time is counted down in `left`, for the nearest such stop, while the tool
 *   works; when the work is longer than what is left the stop strikes within it (at
 *   equality: at the start of the next work);
 * - calendar time is an absolute tick in `calendar`, for the nearest such stop, and
 *   strikes in any phase;
 * - pieces are counted by the outcome; the stop then waits in `striking` and strikes at
 *   the start of the next piece.
 *
 * A stop that waits for a good moment does not strike when it is due: from then on the
 * tick by which it must strike counts as calendar time, and `whenEmpty` or `whenStarved`
 * let it strike an idle tool before. What closes the line waits for an empty tool too.
 */
export class StopClocks {
  readonly left: Float64Array
  readonly calendar: Float64Array
  /** Stop that strikes at the next start; -1: none. */
  readonly striking: Float64Array
  /** From this tick on a stop strikes the tool as soon as it has nothing in work; Infinity: none. */
  readonly whenEmpty: Float64Array
  /** The earlier of `calendar` and the closing hours: a tool that waits for a place stands until then. */
  readonly stands: Float64Array
  /** The earlier of `calendar` and `whenEmpty`: an idle tool rests until then. */
  readonly rests: Float64Array
  /** 1: a stop strikes once the tool has found no wafer. */
  readonly whenStarved: Uint8Array
  readonly idle: IdleLimits
  /** Stops of the station that wait for their moment; those of them for which people are called, or on their way. */
  waiting = 0
  called = 0
  private readonly tools: number
  /** Stop s of tool t at s * tools + t: running time until it strikes, or the tick when. */
  private readonly due: Float64Array
  /** 1: due, and waiting for a good moment. */
  private readonly waits: Uint8Array
  /** Since when. */
  private readonly waitsFrom: Float64Array
  /** `left` when the running clocks were last in step. */
  private readonly span: Float64Array
  private readonly every: (() => number)[] = []
  private readonly lasts: (() => number)[] = []
  private readonly occasions: (Occasions | undefined)[] = []
  /** Per tool: what is left of the intervals of stops that begin at random and renew one another. */
  private readonly together: readonly ReadonlyMap<number, number>[]

  constructor(
    private readonly plan: ToolPlan,
    private readonly key: RunKey,
    fields: ToolFields,
  ) {
    const n = plan.tools
    this.tools = n
    this.left = fields.of(LEFT).fill(Infinity)
    this.calendar = fields.of(Fields.CALENDAR).fill(Infinity)
    this.striking = fields.of(STRIKING).fill(-1)
    this.whenEmpty = fields.of(Fields.WHEN_EMPTY).fill(Infinity)
    this.stands = fields.of(STANDS).fill(Infinity)
    this.rests = fields.of(RESTS).fill(Infinity)
    this.whenStarved = new Uint8Array(n)
    this.due = new Float64Array(n * plan.stops.length)
    this.waits = new Uint8Array(n * plan.stops.length)
    this.waitsFrom = new Float64Array(n * plan.stops.length)
    this.span = new Float64Array(n).fill(Infinity)
    this.idle = new IdleLimits(plan.stops)
    this.together = Array.from({ length: n }, (_, t) => leftAtRandom(plan, t, key))
    for (const stop of plan.stops)
      for (let t = 0; t < n; t++) {
        const name = [plan.name, `tool ${t + 1}`, stop.name]
        this.every.push(drawer(stop.every, key, 1, ...name, 'every'))
        this.lasts.push(drawer(stop.lasts, key, 1, ...name, 'lasts'))
        this.occasions.push(stop.occasions && new Occasions(stop.occasions, key))
      }
  }

  /** How long the stop that strikes at `time` lasts [ticks]. */
  drawLasts(tool: number, stop: number, time: number): number {
    const end = this.endOf(tool, stop)
    return end < Infinity ? Math.max(1, end - time) : this.lasts[stop * this.tools + tool]()
  }

  /** When the stop that is due is over, whatever the tool does; Infinity: it ends when it has lasted its time. */
  endOf(tool: number, stop: number): number {
    return this.occasions[stop * this.tools + tool]?.end ?? Infinity
  }

  /** When a stop by calendar is due. */
  dueOf(tool: number, stop: number): number {
    return this.due[stop * this.tools + tool]
  }

  /**
   * The stop that is due: the one that has been for longest, and of several the first named first. Only those by the
   * calendar may have been due for some time, on a tool that was down or handled.
   *
   * @param phase what the tool does
   */
  whichStrikes(tool: number, time: number, phase: Condition): number {
    this.syncRun(tool)
    let first = -1
    let since = Infinity
    for (let s = 0; s < this.plan.stops.length; s++) {
      const due = this.dueSince(tool, s, time, phase)
      if (due >= since) continue
      first = s
      since = due
    }
    if (first < 0) throw new Error(`no stop is due at ${this.plan.name}`)
    if (this.striking[tool] === first) this.striking[tool] = -1
    return first
  }

  /** Since when it is due; Infinity: it is not, or not in this phase. */
  private dueSince(tool: number, s: number, time: number, phase: Condition): number {
    const index = s * this.tools + tool
    const { clock, waits } = this.plan.stops[s]
    const empty = phase === 'empty' || phase === 'starved'
    if (this.waits[index] === 1) {
      if (this.due[index] <= time) return this.due[index]
      const moment = waits === WHEN_EMPTY ? empty : waits === WHEN_STARVED && phase === 'starved'
      return moment ? time : Infinity
    }
    if (this.striking[tool] === s) return phase === 'works' ? time : Infinity
    if (clock === RUNNING) return this.due[index] <= 0 && phase === 'works' ? time : Infinity
    if (clock !== CALENDAR || this.due[index] > time) return Infinity
    return !closesTool(this.plan.stops[s]) || empty || phase === 'full' ? this.due[index] : Infinity
  }

  /** A stop that is due may wait for a good moment: then the tool goes on. @returns true when it does */
  defers(tool: number, stop: number, time: number): boolean {
    const { waits, waitsAtMost, moments } = this.plan.stops[stop]
    const index = stop * this.tools + tool
    if (waits === AT_ONCE || this.waits[index] === 1 || closesTool(this.plan.stops[stop])) return false
    const latest = time + waitsAtMost
    const due = waits === AT_SHIFT_CHANGE ? Math.min(latest, nextInWeek(moments, time)) : latest
    if (due <= time) return false
    this.due[index] = due
    this.waits[index] = 1
    this.waitsFrom[index] = time
    this.waiting++
    if (this.callsAhead(stop)) this.called++
    this.watch(tool)
    return true
  }

  /** Who is needed for the stop is called while the tool works on. */
  callsAhead(stop: number): boolean {
    return this.plan.stops[stop].waits === WHEN_PEOPLE_COME
  }

  /** A stop that waits for people strikes when they are there, if it has not before. */
  comesAt(tool: number, stop: number, there: number): void {
    const index = stop * this.tools + tool
    this.due[index] = Math.min(this.due[index], there)
    this.watch(tool)
  }

  /** So much of the work that the clocks have counted ahead is not yet done. */
  takeBack(tool: number, work: number): void {
    for (let s = 0; s < this.plan.stops.length; s++)
      if (this.plan.stops[s].clock === RUNNING && this.waits[s * this.tools + tool] === 0)
        this.due[s * this.tools + tool] += work
    this.left[tool] += work
    this.span[tool] += work
  }

  /** Sets a stop's clock anew at `time`. @returns ticks, or pieces, until it strikes */
  rearm(tool: number, stop: number, time: number): number {
    const index = stop * this.tools + tool
    this.waiting -= this.waits[index]
    if (this.callsAhead(stop)) this.called -= this.waits[index]
    this.waits[index] = 0
    if (this.striking[tool] === stop) this.striking[tool] = -1
    const occasions = this.occasions[index]
    if (occasions) {
      occasions.seek(time)
      this.due[index] = occasions.start
      return occasions.start
    }
    return this.set(tool, stop, time, this.every[index]())
  }

  private set(tool: number, stop: number, time: number, every: number): number {
    const index = stop * this.tools + tool
    const { clock } = this.plan.stops[stop]
    if (clock === RUNNING) this.syncRun(tool)
    if (clock === RUNNING) this.due[index] = every
    if (clock === CALENDAR) this.due[index] = time + every
    return every
  }

  /** Sets a stop's clock at the start of the run. */
  arm(tool: number, stop: number): number {
    const { aged, first } = this.plan.stops[stop]
    if (aged) return this.set(tool, stop, 0, this.together[tool].get(stop) ?? this.remaining(tool, stop))
    // No interval is drawn: that between the first and the second is the first of a replay.
    return first ? this.set(tool, stop, 0, first[tool]) : this.rearm(tool, stop, 0)
  }

  /** What is left of the interval within which the run begins: ticks, or pieces. */
  private remaining(tool: number, stop: number): number {
    const { plan, key } = this
    const { name, every } = plan.stops[stop]
    const purpose = [plan.name, `tool ${tool + 1}`, name] as const
    const draw = drawer(every, key, 1, ...purpose, 'every before')
    return Math.ceil(
      remainingOf(draw, mean(every), openStream(key.seed, key.replication, ...purpose, 'begin')),
    )
  }

  /** Moves the running time that has passed from the common count to each stop. */
  private syncRun(tool: number): void {
    const run = this.span[tool] - this.left[tool]
    if (!(run > 0)) return
    for (let s = 0; s < this.plan.stops.length; s++) {
      const index = s * this.tools + tool
      if (this.plan.stops[s].clock === RUNNING && this.waits[index] === 0) this.due[index] -= run
    }
    this.span[tool] = this.left[tool]
  }

  /** Finds the nearest running and calendar stop, and what waits for an idle tool. */
  watch(tool: number): void {
    this.syncRun(tool)
    let run = Infinity
    let calendar = Infinity
    let empty = Infinity
    let closes = Infinity
    let starved = 0
    for (let s = 0; s < this.plan.stops.length; s++) {
      const stop = this.plan.stops[s]
      const index = s * this.tools + tool
      const due = this.due[index]
      if (this.waits[index] === 1) {
        calendar = Math.min(calendar, due)
        if (stop.waits === WHEN_EMPTY) empty = 0
        if (stop.waits === WHEN_STARVED) starved = 1
      } else if (stop.clock === RUNNING) run = Math.min(run, due)
      else if (closesTool(stop)) closes = Math.min(closes, due)
      else if (stop.clock === CALENDAR) calendar = Math.min(calendar, due)
    }
    this.left[tool] = this.span[tool] = run
    this.calendar[tool] = calendar
    this.whenEmpty[tool] = Math.min(empty, closes)
    this.stands[tool] = Math.min(calendar, closes)
    this.rests[tool] = Math.min(calendar, empty, closes)
    this.whenStarved[tool] = starved
  }

  /** A piece stop is due. @returns false when another one already will strike the next piece */
  strikeNext(tool: number, stop: number): boolean {
    if (this.striking[tool] >= 0) return false
    this.striking[tool] = stop
    return true
  }

  /** Until when an idle tool rests, from `time` on, if it finds no wafer: the tick of the stop that ends its rest. */
  restsUntil(tool: number, time: number): number {
    const until = Math.max(time, this.rests[tool])
    return this.whenStarved[tool] === 1 ? Math.min(until, time + 1) : until
  }

  /** Share of the wafers whose work ends then that get a hidden defect since stops of the tool are overdue: the wafer with which one becomes due is as it should be. */
  overdue(tool: number, ended: number): number {
    if (this.waiting === 0) return 0
    let sound = 1
    for (let s = 0; s < this.plan.stops.length; s++)
      if (this.waits[s * this.tools + tool] === 1 && this.waitsFrom[s * this.tools + tool] < ended)
        sound *= 1 - this.plan.stops[s].overdue
    return 1 - sound
  }
}

/** Closing hours have no last moment: the tool ends what it has in work first. */
function closesTool(stop: StopPlan): boolean {
  return stop.waits === WHEN_EMPTY && stop.waitsAtMost === Infinity
}
