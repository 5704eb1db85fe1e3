import { type Estimate, halfWidth } from '../../sim/stats/estimate.ts'
import { studentFactor } from '../../sim/stats/student.ts'
import type { Family } from './check.ts'

/**
 * Pass rule: the 99.9 % interval covers the expected value, and the run was long enough:
 * the 95 % interval of the same runs is as narrow as the figure asks. A check that misses
 * is tried once more with its second seed: among some hundred intervals at 99.9 % one may
 * miss by chance, hardly the same one twice.
 */
export const LEVEL = 0.999
const PRECISION_LEVEL = 0.95

/** One figure of one check, judged. */
export interface Verdict {
  readonly id: string
  readonly family: Family
  readonly kind: 'simulated' | 'study' | 'sample path' | 'number'
  readonly what: string
  readonly source: string
  readonly figure: string
  readonly expected: number
  readonly mean: number
  /** Ends of the interval, 99.9 % at least; both the mean where nothing is left to chance. */
  readonly low: number
  readonly high: number
  /** Half-width of the 95 % interval as a share of the expected value, and what it may be. */
  readonly halfWidth: number
  readonly within: number
  readonly pass: boolean
  /** Why not; empty when it passes. */
  readonly fault: string
  /** How it was run; for what is simulated only. */
  readonly days?: number
  readonly replications?: number
  /** Studies or trials behind a share. */
  readonly repeats?: number
  readonly seed?: string
  /** Tried a second time, with the second seed. */
  readonly secondTry: boolean
  /** Time that the whole check took, the same in all its figures [s]. */
  readonly seconds: number
}

/** What is asked of an estimate. */
export interface Expectation {
  readonly expected: number
  /** Wanted half-width of the 95 % interval, as a share of the expected value. */
  readonly within: number
  /** Level of the estimate's interval. */
  readonly level: number
  /** The expected value is a least one: what is found may be above it. */
  readonly atLeast?: true
}

/** An estimate beside what is asked of it. */
export type Judged = Pick<
  Verdict,
  'expected' | 'mean' | 'low' | 'high' | 'halfWidth' | 'within' | 'pass' | 'fault'
>

/** Rounding that a sum of some million doubles may leave. */
const ROUNDING = 1e-9

/** Judges an estimate by the pass rule; a fault found elsewhere comes before its own. */
export function judgeEstimate(estimate: Estimate, asked: Expectation, foundBefore = ''): Judged {
  const { mean, low = mean, high = mean } = estimate
  const { expected, within } = asked
  const fault = foundBefore || faultOf(estimate, asked)
  return {
    ...{ expected, mean, low, high, within, fault },
    halfWidth: relative(estimate, asked),
    pass: fault === '',
  }
}

function faultOf(estimate: Estimate, asked: Expectation): string {
  const { expected, within, atLeast } = asked
  const { mean, low = mean, high = mean, n } = estimate
  if (n < 2) return 'no interval'
  const slack = ROUNDING * Math.abs(expected)
  const tooHigh = low - slack > expected && !atLeast
  if (!(high + slack >= expected) || tooHigh) return 'misses'
  const half = relative(estimate, asked)
  return half <= within ? '' : `not sure enough: ${percent(half)} of ${percent(within)}`
}

/** Half-width of the 95 % interval as a share of the expected value; where that is 0, as it is. */
function relative(estimate: Estimate, { expected, level }: Expectation): number {
  const half = halfWidth(estimate)
  if (half === undefined) return Infinity
  if (half === 0) return 0
  const degrees = estimate.n - 1
  const narrower = studentFactor(PRECISION_LEVEL, degrees) / studentFactor(level, degrees)
  return (half * narrower) / (Math.abs(expected) || 1)
}

function percent(fraction: number): string {
  return `${(fraction * 100).toPrecision(2)} %`
}

/** Judges with the first seed, and when that does not pass once more with the second. `clock` gives seconds. */
export async function tried(
  [first, second]: readonly [string, string],
  judge: (seed: string) => Promise<Verdict[]>,
  clock: () => number,
): Promise<Verdict[]> {
  const started = clock()
  const once = await judge(first)
  const passes = once.every(({ pass }) => pass)
  const last = passes ? once : await judge(second)
  const seconds = clock() - started
  return last.map(verdict => ({ ...verdict, secondTry: !passes, seconds }))
}
