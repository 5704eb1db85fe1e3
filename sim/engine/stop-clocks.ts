import { CALENDAR, RUNNING, type ToolPlan } from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

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
 */
export class StopClocks {
  readonly left: Float64Array
  readonly calendar: Float64Array
  /** Stop that strikes at the next start; -1: none. */
  readonly striking: Int16Array
  private readonly tools: number
  /** Stop s of tool t at s * tools + t: running time until it strikes, or the tick when. */
  private readonly due: Float64Array
  /** `left` when the running clocks were last in step. */
  private readonly span: Float64Array
  private readonly every: (() => number)[] = []
  private readonly lasts: (() => number)[] = []

  constructor(
    private readonly plan: ToolPlan,
    key: RunKey,
  ) {
    const n = plan.tools
    this.tools = n
    this.left = new Float64Array(n).fill(Infinity)
    this.calendar = new Float64Array(n).fill(Infinity)
    this.striking = new Int16Array(n).fill(-1)
    this.due = new Float64Array(n * plan.stops.length)
    this.span = new Float64Array(n).fill(Infinity)
    for (const stop of plan.stops)
      for (let t = 0; t < n; t++) {
        const name = [plan.name, `tool ${t + 1}`, stop.name]
        this.every.push(drawer(stop.every, key, 1, ...name, 'every'))
        this.lasts.push(drawer(stop.lasts, key, 1, ...name, 'lasts'))
      }
  }

  drawLasts(tool: number, stop: number): number {
    return this.lasts[stop * this.tools + tool]()
  }

  /** The stop that is due: one that waits for the next piece, then by running time, then by calendar; the first named first. */
  whichStrikes(tool: number, time: number, working: boolean): number {
    const waiting = this.striking[tool]
    if (waiting >= 0 && working) {
      this.striking[tool] = -1
      return waiting
    }
    this.syncRun(tool)
    for (let s = 0; s < this.plan.stops.length; s++) {
      const due = this.due[s * this.tools + tool]
      const clock = this.plan.stops[s].clock
      if (clock === RUNNING && due <= 0 && working) return s
      if (clock === CALENDAR && due <= time) return s
    }
    throw new Error(`no stop is due at ${this.plan.name}`)
  }

  /** Sets a stop's clock anew at `time`. @returns ticks, or pieces, until it strikes */
  rearm(tool: number, stop: number, time: number): number {
    const index = stop * this.tools + tool
    const every = this.every[index]()
    const { clock } = this.plan.stops[stop]
    if (clock === RUNNING) this.syncRun(tool)
    if (clock === RUNNING) this.due[index] = every
    if (clock === CALENDAR) this.due[index] = time + every
    return every
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
  watch(tool: number): void {
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

  /** A piece stop is due. @returns false when another one already will */
  strikeNext(tool: number, stop: number): boolean {
    if (this.striking[tool] >= 0) return false
    this.striking[tool] = stop
    return true
  }
}
