import { studentFactor } from './student.ts'
import { mean, standardDeviation } from './summary.ts'

/** A figure and how sure it is. `low` and `high` are absent when n = 1. */
export interface Estimate {
  readonly mean: number
  /** Ends of the Student-t interval at the study's level. */
  readonly low?: number
  readonly high?: number
  /** Replications behind it. */
  readonly n: number
}

/**
 * Mean of independent values with its two-sided Student-t interval, n - 1 degrees
 * of freedom: mean +- t s / sqrt(n). One value gives its mean only.
 *
 * Throws RangeError without a value or with a level outside (0, 1).
 */
export function estimate(values: readonly number[], level: number): Estimate {
  if (values.length === 0) throw new RangeError('an estimate needs at least one value')
  if (values.length === 1) return { mean: values[0], n: 1 }
  return estimateFromMoments(mean(values), standardDeviation(values), values.length, level)
}

/** The same from the mean and the sample standard deviation (n - 1) of n values, n at least 2. */
export function estimateFromMoments(mean: number, sd: number, n: number, level: number): Estimate {
  const half = (studentFactor(level, n - 1) * sd) / Math.sqrt(n)
  return { mean, low: mean - half, high: mean + half, n }
}

/** Half the width of the interval; undefined when there is none. */
export function halfWidth(estimate: Estimate): number | undefined {
  if (estimate.low === undefined || estimate.high === undefined) return undefined
  return (estimate.high - estimate.low) / 2
}

/** Half-width as a share of the mean's size; undefined when there is no interval, Infinity when the mean is 0. */
export function relativeHalfWidth(estimate: Estimate): number | undefined {
  const half = halfWidth(estimate)
  if (half === undefined) return undefined
  return half === 0 ? 0 : half / Math.abs(estimate.mean)
}
