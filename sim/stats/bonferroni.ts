/**
 * Level for each of several intervals so that all of them hold together with at
 * least `level`: 1 - (1 - level) / comparisons (Bonferroni's inequality).
 * Source: Dunn (1961), Journal of the American Statistical Association 56, 52-64.
 *
 * Throws RangeError unless `comparisons` is a whole number of at least 1.
 */
export function bonferroniLevel(level: number, comparisons: number): number {
  if (!Number.isInteger(comparisons) || comparisons < 1)
    throw new RangeError(`comparisons are counted from 1, not ${comparisons}`)
  return 1 - (1 - level) / comparisons
}
