/**
 * Sample quantile, type 7: linear between the order statistics, at position
 * (n - 1) p counted from 0. p = 0.5 is the median.
 * Source: Hyndman & Fan (1996), Sample Quantiles in Statistical Packages, The
 * American Statistician 50(4), 361-365.
 *
 * Throws RangeError without a value or with p outside [0, 1].
 */
export function quantile(values: ArrayLike<number>, p: number): number {
  return sortedQuantile(Float64Array.from(values).sort(), p)
}

/** The same for values already in rising order, so that several quantiles cost one sort. */
export function sortedQuantile(sorted: ArrayLike<number>, p: number): number {
  if (sorted.length === 0) throw new RangeError('a quantile needs at least one value')
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a quantile lies between 0 and 1, not at ${p}`)
  const position = (sorted.length - 1) * p
  const below = Math.floor(position)
  const above = Math.min(below + 1, sorted.length - 1)
  return sorted[below] + (position - below) * (sorted[above] - sorted[below])
}
