import type { Line } from '../../sim/line/types.ts'
import type { Estimate } from '../../sim/stats/estimate.ts'
import type { StudyHooks } from '../../sim/study/options.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'

/**
 * Published checks of the whole simulator. A check is a line in the language of
 * scenarios, how long to run it, and what its figures must be.
 *
 * Where a source says "value computed independently", the source gives the model and
 * its method, and the digits were computed anew with code of another kind (a closed
 * form, a Markov chain, a recursion). "From memory" speaks of the citation, not of the
 * value.
 */
export interface Check {
  /** Unique, as "S-05a"; the letter is the family's. */
  readonly id: string
  readonly family: Family
  readonly what: string
  readonly source: string
  readonly line: Line
  readonly run: RunLength
  readonly figures: readonly Figure[]
}

export type Family =
  | 'queueing'
  | 'serial lines'
  | 'unreliable lines'
  | 'studies'
  | 'capacity'
  | 'binning'
  | 'statistics'
  | 'random numbers'
  | 'string mismatch'
  | 'money'

export interface RunLength {
  /** Simulated days of one replication. */
  readonly days: number
  readonly replications: number
}

/** A figure of a study and its exact long-run value. */
export interface Figure {
  readonly name: string
  /** In the unit of the source: what `read` gives. */
  readonly expected: number
  /** Wanted half-width of the 95 % interval, as a share of the expected value. */
  readonly within: number
  read(study: RunStudy): Estimate
}

/** A check of an answer that the simulator gives by many runs: where a line is held, what a loss costs, how often an interval holds. */
export interface StudyCheck {
  readonly id: string
  readonly family: Family
  readonly what: string
  readonly source: string
  readonly run: StudyLength
  /** The figures as the simulator finds them. */
  find(run: StudyRun): Promise<StudyFigure[]>
}

/** Without days where a procedure is tried on made-up values. */
export interface StudyLength extends RunLength {
  /** Studies, or trials of a procedure, of which a share is counted. */
  readonly repeats?: number
}

/** One run of such a check: its length, its chance, and whom it tells of its progress. */
export interface StudyRun extends Required<StudyLength> {
  readonly seed: string
  readonly hooks: StudyHooks
}

export interface StudyFigure {
  readonly name: string
  readonly expected: number
  /** Wanted half-width of the 95 % interval, as a share of the expected value. */
  readonly within: number
  readonly estimate: Estimate
  /** Level of the interval, where the study has widened it for many figures at once. */
  readonly level?: number
  /** The expected value is a least one: what is found may be above it. */
  readonly atLeast?: true
}

/** A sample path without chance: every time in it must agree exactly, in both drives. */
export interface PathCheck {
  readonly id: string
  readonly family: Family
  readonly what: string
  readonly source: string
  readonly line: Line
  /** Single figures and lists of times, by name. */
  readonly expected: PathFigures
  /** The same as the simulator finds them. */
  find(drive: 'strict' | 'eager'): PathFigures
}

/** Numbers that a function of the simulator must return. */
export interface NumberCheck {
  readonly id: string
  readonly family: Family
  readonly what: string
  readonly source: string
  readonly figures: readonly ExactFigure[]
}

export interface ExactFigure {
  readonly name: string
  readonly expected: number
  /** Relative: what the printed digits leave open, or what rounding may do. */
  readonly tolerance: number
  find(): number
}

export type PathFigures = Readonly<Record<string, number | readonly number[]>>

/**
 * Half-widths of the pass rule: in general, and for means of queues that are used to 80 %
 * and more. A share of time need not be known to more than two thousandths of the time.
 */
export const HALF_PERCENT = 0.005
export const ONE_PERCENT = 0.01
export const SHARE_OF_TIME = 0.002

/**
 * Replications of every check: many, so that the Student factor at 99.9 % is small;
 * the total length of the run is what precision costs.
 */
export const REPLICATIONS = 30

const MINUTES_PER_DAY = 1440

/** The seed of a check, and the one that is tried once when the first misses. Every check has its own. */
export function seedsOf({ id }: Pick<Check, 'id'>): readonly [string, string] {
  return [`published ${id}`, `published ${id}, second seed`]
}

/** Makes the checks of one family. `length` is in minutes, all replications together. */
export function checksOf(family: Family) {
  return (
    id: string,
    what: string,
    source: string,
    line: Line,
    length: number | RunLength,
    figures: readonly Figure[],
  ): Check => ({
    ...{ id, family, what, source, line, figures },
    run: typeof length === 'number' ? runOf(length) : length,
  })
}

/** The run of `minutes` in all replications together. */
function runOf(minutes: number): RunLength {
  return { days: minutes / MINUTES_PER_DAY / REPLICATIONS, replications: REPLICATIONS }
}
