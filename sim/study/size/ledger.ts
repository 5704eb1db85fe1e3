import type { Line } from '../../line/types.ts'
import { compile } from '../../plan/compile.ts'
import { TICKS_PER_HOUR } from '../../plan/plan.ts'
import { mean } from '../../stats/summary.ts'
import { type Course, courseOf, type Output, outputOf } from '../designs/course.ts'
import { commonCut, type DesignOptions, type Means, runAll } from '../designs/designs.ts'
import { type StepStand, standOf } from '../designs/stand.ts'
import { resolutionOf, type WindowHours, windowOf } from '../designs/window.ts'
import { jobsOf } from '../jobs.ts'
import { wholeCut } from '../warm-up.ts'
import { type Choice, choiceText, lineOf, type Variable } from './variables.ts'

/** Replications of the selection are counted from here, so that it rests on none of those that the search has seen. */
const FRESH = 1_000_000

/** What the runs of the search tell of a design. */
export interface Pilot {
  /** Mean good output [cells/h]. */
  readonly good: number
  readonly window: WindowHours
  /** Share of the wafers started that have neither left the line nor been lost: it fills. */
  readonly kept: number
}

/** Runs designs and remembers what they made: nothing is simulated twice. */
export class Ledger {
  private readonly pilots = new Map<string, Course[]>()
  private readonly fresh = new Map<string, Course[]>()
  private cut: number | undefined
  /** What is measured begins no earlier, where the runs are long enough for it [h]. */
  private earliest = 0

  constructor(
    private readonly line: Line,
    readonly variables: readonly Variable[],
    readonly options: DesignOptions,
    private readonly means: Means,
    /** Replications so far. */
    public runs = 0,
  ) {}

  /** The same with longer runs, of which none has been made. */
  longer(days: number): Ledger {
    const { line, variables, options, means, runs } = this
    return new Ledger(line, variables, { ...options, days }, means, runs)
  }

  /** What is measured begins this late, if it can: lines that fill say little [h]. */
  beginAt(earliest: number): void {
    this.earliest = earliest
  }

  /** Designs run in the search. */
  designs(): number {
    return this.pilots.size
  }

  /** Mean good output of each choice over the replications of the search [cells/h]. */
  async pilot(choices: readonly Choice[]): Promise<number[]> {
    const unknown = [...new Set(choices.map(keyOf))].filter(key => !this.pilots.has(key))
    const missing = unknown.map(key => choices.find(choice => keyOf(choice) === key) as Choice)
    const { replications } = this.options
    const courses = await this.run(missing, 0, replications)
    missing.forEach((choice, c) => {
      this.pilots.set(keyOf(choice), courses.slice(c * replications, (c + 1) * replications))
    })
    return choices.map(choice => (this.measured(choice) as Pilot).good)
  }

  /** What the search has seen of a choice; undefined when it was not run. */
  measured(choice: Choice): Pilot | undefined {
    const own = this.pilots.get(keyOf(choice))
    if (own === undefined) return undefined
    const cut = this.cutOf(own)
    const outputs = own.map(course => outputOf(course, cut))
    const good = mean(outputs.map(({ goodPerHour }) => goodPerHour))
    return { good, window: windowOf(own, cut), kept: mean(outputs.map(keptOf)) }
  }

  private cutOf(courses: readonly Course[]): number {
    const [{ blocks, cutBy }] = courses
    const least = Math.ceil((this.earliest * TICKS_PER_HOUR) / blocks.coarse)
    return Math.max(commonCut([courses]), wholeCut(least, blocks.coarseCount, cutBy))
  }

  /**
   * Good output of fresh replications of a choice, in order, `count` of them at least. All
   * are measured over one window, which the first stage of the first choice sets.
   */
  async values(choice: Choice, count: number): Promise<number[]> {
    const known = this.fresh.get(keyOf(choice)) ?? []
    if (known.length < count) {
      known.push(...(await this.run([choice], FRESH + known.length, count - known.length)))
      this.fresh.set(keyOf(choice), known)
    }
    this.cut ??= this.cutOf(known)
    const { cut } = this
    return known.map(course => outputOf(course, cut).goodPerHour)
  }

  lineOf(choice: Choice): Line {
    return lineOf(this.line, this.variables, choice)
  }

  /** How the steps of a choice stood in its fresh replications, over the window of `values`. */
  stand(choice: Choice, level: number): StepStand[] {
    const courses = this.fresh.get(keyOf(choice)) ?? []
    return standOf(compile(this.lineOf(choice)).steps, courses, this.cut ?? 0, level)
  }

  /** The window of `values`, and how long a cell is in this choice. */
  window(choice: Choice): WindowHours {
    return windowOf(this.fresh.get(keyOf(choice)) ?? [], this.cut ?? 0)
  }

  /** By how much `values` of a choice can be off, or the difference to another over the first `count` of them [cells/h]. */
  resolution(choice: Choice, other?: Choice, count?: number): number {
    const of = (one: Choice) => (this.fresh.get(keyOf(one)) ?? []).slice(0, count)
    return resolutionOf(this.cut ?? 0, [of(choice)], other ? [of(other)] : [])
  }

  private async run(choices: readonly Choice[], first: number, count: number): Promise<Course[]> {
    this.runs += choices.length * count
    const jobs = choices.flatMap(choice =>
      jobsOf(this.lineOf(choice), choiceText(this.variables, choice), this.options, first, first + count),
    )
    return runAll(jobs, this.means, courseOf, 'unknown')
  }
}

function keptOf({ startedPerHour, goodPerHour, lostPerHour }: Output): number {
  if (startedPerHour === 0) return 0
  const gone = goodPerHour + lostPerHour.reduce((sum, lost) => sum + lost, 0)
  return (startedPerHour - gone) / startedPerHour
}

export function keyOf(choice: Choice): string {
  return choice.join(' ')
}
