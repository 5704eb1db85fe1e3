import type { Stream } from './streams.ts'

/** Mean of the values, each equally likely. */
export function observedMean(values: readonly number[]): number {
  let sum = 0
  for (const value of values) sum += value
  return sum / values.length
}

/** Variance of a draw from the values: their squared distance from the mean, divided by n. */
export function observedVariance(values: readonly number[]): number {
  const mean = observedMean(values)
  let squares = 0
  for (const value of values) squares += (value - mean) ** 2
  return squares / values.length
}

/**
 * Quantile of observed values, type 7: linear between the order statistics, at
 * position (n - 1) p counted from 0.
 * Source: Hyndman & Fan (1996), Sample Quantiles in Statistical Packages, The
 * American Statistician 50(4), 361-365.
 *
 * A summary of the data for people: draws take the values themselves and nothing
 * in between.
 */
export function observedQuantile(values: readonly number[], p: number): number {
  const sorted = Float64Array.from(values).sort()
  const position = (sorted.length - 1) * p
  const below = Math.floor(position)
  const above = Math.min(below + 1, sorted.length - 1)
  return sorted[below] + (position - below) * (sorted[above] - sorted[below])
}

/** Picks one of the values, all equally likely; a larger uniform picks a larger value. */
export function observedSampler(values: readonly number[], stream: Stream): () => number {
  const sorted = Float64Array.from(values).sort()
  const count = sorted.length
  return () => sorted[Math.floor(stream() * count)]
}

/** Gives the values in their order, then from the start again, without a draw. */
export function replaySampler(values: readonly number[]): () => number {
  const sequence = Float64Array.from(values)
  let next = 0
  return () => {
    const value = sequence[next]
    next = next + 1 === sequence.length ? 0 : next + 1
    return value
  }
}
