import { sequentialConstants } from './kim-nelson.ts'
import { standardDeviation } from './summary.ts'

/** What the values so far say of their long-run mean against a standard. */
export type Judgement = 'reaches' | 'misses' | 'undecided'

/** What a feasibility check is to tell apart. */
export interface Standard {
  /** What the mean is compared with. */
  readonly value: number
  /** A mean this far above the standard must be found to reach it, one as far below to miss it. */
  readonly tolerance: number
  /** Probability that the verdict is wrong for such a mean, at most. */
  readonly error: number
}

/**
 * Feasibility check of one system, fully sequential: sums the values less the standard,
 * one by one, until the sum leaves the triangle
 * +-(hSquared S^2 / (2 tolerance) - tolerance r / 2), S^2 the variance of the first
 * `first` values, r the number of values. With errors alpha / k for each of k systems all
 * verdicts are right together with probability 1 - alpha (Bonferroni), on common streams too.
 * Sources: Andradottir & Kim (2010), Naval Research Logistics 57, 119-136; the triangle is
 * Fabian's (1974) and Kim & Nelson's (2001) (from memory).
 *
 * Judges at the first exit from the triangle, whatever values come after it.
 */
export function judgeFeasible(values: readonly number[], first: number, standard: Standard): Judgement {
  if (values.length < first) return 'undecided'
  const { value, tolerance, error } = standard
  const { hSquared } = sequentialConstants(error, first)
  const variance = standardDeviation(values.slice(0, first)) ** 2
  let sum = 0
  for (const [index, one] of values.entries()) {
    sum += one - value
    const r = index + 1
    if (r < first) continue
    const edge = Math.max(0, (hSquared * variance) / (2 * tolerance) - (tolerance * r) / 2)
    if (sum >= edge) return 'reaches'
    if (sum <= -edge) return 'misses'
  }
  return 'undecided'
}

/** Number of values after which the check is sure to be over. */
export function longestCheck(firstValues: readonly number[], { tolerance, error }: Standard): number {
  const first = firstValues.length
  const { hSquared } = sequentialConstants(error, first)
  const variance = standardDeviation(firstValues) ** 2
  return Math.max(first, Math.ceil((hSquared * variance) / tolerance ** 2))
}
