import { openStream, type Stream } from '../chance/streams.ts'
import type { OutcomePlan, StopPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { Countdown } from './countdown.ts'
import { drawer, type RunKey } from './draw.ts'
import type { Meter } from './meter.ts'
import * as Books from './meter.ts'
import { SetUp } from './set-up.ts'
import { START } from './start.ts'
import { Tester } from './tester.ts'
import type { ToolFields } from './tool-fields.ts'
import * as Fields from './tool-fields.ts'
import type { Wafers } from './wafers.ts'

const { AT_ONCE, PIECES } = Plans
const { BROKEN, REJECTED, REWORKED, SET_UP } = Books
const { QUIET } = Fields

/** What an outcome asks of the station it belongs to. */
export interface OutcomeHost {
  readonly name: string
  readonly tools: number
  readonly key: RunKey
  readonly fields: ToolFields
  /** Piece stops count wafers, or loads. */
  readonly pieces: 'wafers' | 'loads'
  readonly meter: Meter
  readonly wafers: Wafers
  removeWafer(wafer: number, time: number): void
  sendBack(wafer: number, time: number): void
  strikeNext(tool: number, stop: number, time: number): boolean
  bookLoss(stop: number, wafers: number): void
}

/** What `settle` says of a wafer. */
export const PASSES = 0
export const GONE = 1
/** The tool does the wafer again at once. */
export const AGAIN = 2

/**
 * What becomes of a wafer when its service ends. Rare things are counted down: per tool
 * and cause the number of wafers until the next one, drawn once per occurrence, and
 * `quiet`, the nearest of them. A station counts `quiet` down itself and calls `settle`
 * only for the wafer that reaches it; a tester settles every wafer, and so does a tool with
 * boxes: there `quiet` is always 1, and the outcome counts the rare things down itself.
 */
export class Outcome {
  /** Wafers up to and including the next one to be settled, per tool; counted down by the station. */
  readonly quiet: Float64Array
  /** Time to clear the tool of shards after the last settled wafer [ticks]; 0: none. */
  clearing = START
  /** What measures and sorts, at a tester. */
  readonly tester: Tester | undefined
  /** Wafers up to and including the next one to which something rare happens; the same as `quiet` but at testers and tools with boxes. */
  private readonly rare: Float64Array
  /** What `rare` was when all counts were last in step with it. */
  private readonly span: Float64Array
  private readonly toBreakage: Countdown
  private readonly toReject: Countdown
  private readonly toRework: Countdown
  /** Only when a stop asks for set-up wafers. */
  private setUp: SetUp | undefined
  /** Pieces until stop s of tool t strikes, at s * tools + t; Infinity when it is not counting. */
  private pieces = new Float64Array(0)
  private callingStops: readonly number[] = []
  private waitingStops: readonly number[] = []
  private readonly drawClearing: (() => number)[] = []
  private readonly chance: Stream[] = []

  constructor(
    private readonly station: OutcomeHost,
    private readonly plan: OutcomePlan,
  ) {
    const n = station.tools
    this.quiet = station.fields.of(QUIET)
    this.rare = plan.test || plan.boxes ? new Float64Array(n).fill(1) : this.quiet
    this.span = new Float64Array(n)
    this.toBreakage = new Countdown(station, 'breakage', plan.breakage)
    this.toReject = new Countdown(station, 'reject', plan.reject)
    this.toRework = new Countdown(station, 'rework', plan.rework?.share ?? 0)
    this.tester = plan.test && new Tester(station, plan.test)
    const { seed, replication } = station.key
    for (let t = 0; t < n; t++) {
      const tool = [station.name, `tool ${t + 1}`]
      this.chance.push(openStream(seed, replication, ...tool, 'chance'))
      if (plan.clearing)
        this.drawClearing.push(drawer(plan.clearing.lasts, station.key, 1, ...tool, 'clearing'))
    }
  }

  /** Makes room for what the stops of the station count here and sets all counts. Called once. */
  readStops(stops: readonly StopPlan[]): void {
    const { name, tools, key } = this.station
    if (stops.some(({ setUp }) => setUp[1] > 0)) this.setUp = new SetUp(stops, name, tools, key)
    this.pieces = new Float64Array(stops.length * this.station.tools).fill(Infinity)
    // One that renews another may bring that one's call nearer.
    this.callingStops = stops.flatMap(({ clock, call, renews }, s) =>
      clock === PIECES && (call || renews.length > 0) ? [s] : [],
    )
    this.waitingStops = stops.flatMap(({ clock, waits }, s) =>
      clock === PIECES && waits !== AT_ONCE ? [s] : [],
    )
    for (let t = 0; t < this.station.tools; t++) this.count(t)
  }

  armPieceStop(tool: number, stop: number, every: number): void {
    this.sync(tool)
    this.pieces[stop * this.station.tools + tool] = every
    this.count(tool)
  }

  /** A stop of the tool is over: what it finishes next are set-up wafers, if the stop asks for them. @param ahead wafers inside that were taken before */
  renewed(tool: number, stop: number, ahead: number): void {
    if (!this.setUp) return
    this.sync(tool)
    this.setUp.renewed(tool, stop, ahead)
    this.count(tool)
  }

  /** A wafer inside is lost before it ends. @param ahead wafers inside that were taken before it */
  lostInside(tool: number, ahead: number): void {
    if (!this.setUp) return
    this.sync(tool)
    this.setUp.lostInside(tool, ahead)
    this.count(tool)
  }

  /** The wafer whose service ends now, when `quiet` has come down to 0. @returns PASSES, GONE or AGAIN */
  settle(tool: number, wafer: number, time: number): number {
    const { tester } = this
    this.clearing = 0
    if (this.rare !== this.quiet) {
      this.quiet[tool] = 1
      if (--this.rare[tool] > 0) return tester ? this.examine(tester, tool, wafer, time, false) : PASSES
    }
    this.sync(tool)
    const fate = this.judge(tool, wafer, time)
    if (this.station.pieces === 'wafers') this.endPiece(tool, time)
    this.count(tool)
    return fate
  }

  /** At a tool with boxes: nothing but that happens to the wafer whose service ends next. */
  passesPlainly(tool: number): boolean {
    return this.rare[tool] > 1
  }

  /** It has ended: the station has still to count it. */
  pass(tool: number): void {
    this.rare[tool]--
    this.quiet[tool] = 2
  }

  /** At least so many wafers must end before one goes back; Infinity when none ever does. */
  toNextRework(tool: number): number {
    if (this.plan.test && this.plan.test.reworkBelow > -Infinity) return 1
    return this.toRework.left[tool] - this.passedSince(tool)
  }

  /** At least so many wafers (loads) must end before a breakage or a piece stop calls for people; Infinity when none does. */
  toNextCall(tool: number): number {
    let next = this.plan.clearing?.call ? this.toBreakage.left[tool] : Infinity
    for (const stop of this.callingStops) next = Math.min(next, this.pieces[stop * this.station.tools + tool])
    return next === Infinity ? Infinity : Math.max(1, next - this.passedSince(tool))
  }

  /** With so many wafers that end a stop becomes due that waits for a good moment; Infinity: with none. */
  toNextWaiting(tool: number): number {
    let next = Infinity
    for (const stop of this.waitingStops) next = Math.min(next, this.pieces[stop * this.station.tools + tool])
    return next === Infinity ? Infinity : Math.max(1, next - this.passedSince(tool))
  }

  /** At least so many wafers must end before one of them is lost; Infinity when none ever is. */
  toNextLoss(tool: number): number {
    if (this.plan.test) return 1
    let next = Math.min(this.toBreakage.left[tool], this.toReject.left[tool])
    if (this.plan.rework?.thenReject) next = Math.min(next, this.toRework.left[tool])
    if (this.setUp) next = Math.min(next, this.setUp.toNext(tool, this.pieces))
    return next === Infinity ? Infinity : Math.max(1, next - this.passedSince(tool))
  }

  /** Wafers that have ended and are not yet taken off every count. */
  private passedSince(tool: number): number {
    return this.rare[tool] === Infinity ? 0 : this.span[tool] - this.rare[tool]
  }

  /** Batch: a load has ended. */
  endLoad(tool: number, time: number): void {
    for (let i = tool; i < this.pieces.length; i += this.station.tools) this.pieces[i]--
    this.endPiece(tool, time)
  }

  /** Wafers to lose in a stop that spoils some of them. */
  drawLoss(tool: number, [least, most]: readonly [number, number]): number {
    return least + Math.floor(this.chance[tool]() * (most - least + 1))
  }

  private judge(tool: number, wafer: number, time: number): number {
    const broken = this.toBreakage.hit(tool)
    const rejected = this.toReject.hit(tool)
    const reworked = this.toRework.hit(tool)
    const setUpFor = this.setUp ? this.setUp.hit(tool) : -1
    if (broken) return this.break(tool, wafer, time)
    if (setUpFor >= 0) return this.loseSetUp(setUpFor, wafer, time)
    if (rejected) return this.reject(wafer, time)
    if (this.tester) return this.examine(this.tester, tool, wafer, time, reworked)
    return reworked ? this.rework(wafer, time) : PASSES
  }

  /** Measures a cell and sorts it. @param doubted it goes back whatever is measured */
  private examine(tester: Tester, tool: number, wafer: number, time: number, doubted: boolean): number {
    if (tester.findsDefect(tool, wafer)) return this.reject(wafer, time)
    const measured = tester.measure(tool, wafer)
    if (measured < tester.plan.rejectBelow) return this.reject(wafer, time)
    if (doubted || measured < tester.plan.reworkBelow) {
      const fate = this.rework(wafer, time)
      if (fate !== PASSES) return fate
    }
    tester.sort(tool, wafer, measured)
    return PASSES
  }

  private break(tool: number, wafer: number, time: number): number {
    this.station.meter.counter[BROKEN]++
    this.station.removeWafer(wafer, time)
    const clearing = this.plan.clearing
    if (clearing && this.chance[tool]() < clearing.share) this.clearing = this.drawClearing[tool]()
    return GONE
  }

  private loseSetUp(stop: number, wafer: number, time: number): number {
    this.station.meter.counter[SET_UP]++
    this.station.bookLoss(stop, 1)
    this.station.removeWafer(wafer, time)
    return GONE
  }

  private reject(wafer: number, time: number): number {
    this.station.meter.counter[REJECTED]++
    this.station.removeWafer(wafer, time)
    return GONE
  }

  /** Sends the wafer back, unless it has been back as often as it may. */
  private rework(wafer: number, time: number): number {
    const plan = this.plan.rework
    if (!plan) return PASSES
    const { wafers } = this.station
    if (wafers.passesOf(wafer, plan.loop) >= plan.atMost)
      return plan.thenReject ? this.reject(wafer, time) : PASSES
    wafers.countPass(wafer, plan.loop)
    this.station.meter.counter[REWORKED]++
    if (plan.channel < 0) return AGAIN
    this.station.sendBack(wafer, time)
    return GONE
  }

  /** Piece stops that are due strike at the start of the next piece; one at a time, the others one piece later. */
  private endPiece(tool: number, time: number): void {
    for (let stop = 0; stop * this.station.tools < this.pieces.length; stop++) {
      const index = stop * this.station.tools + tool
      if (this.pieces[index] > 0) continue
      if (this.station.strikeNext(tool, stop, time)) this.pieces[index] = Infinity
      else this.pieces[index] = 1
    }
  }

  /** Takes the wafers that have passed off every count. */
  private sync(tool: number): void {
    const passed = this.span[tool] - this.rare[tool]
    if (!(passed > 0)) return
    this.toBreakage.left[tool] -= passed
    this.toReject.left[tool] -= passed
    this.toRework.left[tool] -= passed
    if (this.setUp) this.setUp.left[tool] -= passed
    if (this.station.pieces === 'wafers')
      for (let i = tool; i < this.pieces.length; i += this.station.tools) this.pieces[i] -= passed
    this.span[tool] = this.rare[tool]
  }

  /** Finds the nearest occurrence. */
  private count(tool: number): void {
    let next = Math.min(this.toBreakage.left[tool], this.toReject.left[tool], this.toRework.left[tool])
    if (this.setUp) next = Math.min(next, this.setUp.left[tool])
    if (this.station.pieces === 'wafers')
      for (let i = tool; i < this.pieces.length; i += this.station.tools)
        next = Math.min(next, this.pieces[i])
    this.rare[tool] = this.span[tool] = next
    if (this.rare !== this.quiet) this.quiet[tool] = 1
  }
}
