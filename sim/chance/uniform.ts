import type { Stream } from './streams.ts'

/**
 * Uniform law on [least, most].
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2
 * (1995), chapter 26.
 */
export function uniformMean(least: number, most: number): number {
  return least + (most - least) / 2
}

/** (most - least)^2 / 12. */
export function uniformVariance(least: number, most: number): number {
  return (most - least) ** 2 / 12
}

/** x with P(X <= x) = p. */
export function uniformQuantile(least: number, most: number, p: number): number {
  return least + (most - least) * p
}

export function uniformSampler(least: number, most: number, stream: Stream): () => number {
  const width = most - least
  return () => least + width * stream()
}
