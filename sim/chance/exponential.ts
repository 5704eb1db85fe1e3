import type { Stream } from './streams.ts'

/**
 * Exponential law by its mean m: P(X <= x) = 1 - exp(-x / m), variance m^2.
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1
 * (1994), chapter 19.
 */
export function exponentialVariance(mean: number): number {
  return mean * mean
}

/** x with P(X <= x) = p: -m ln(1 - p). Infinity at p = 1. */
export function exponentialQuantile(mean: number, p: number): number {
  return -mean * Math.log1p(-p)
}

/** Draws by inversion. 1 - u is exact and never 0, so the logarithm is finite. */
export function exponentialSampler(mean: number, stream: Stream): () => number {
  return () => -mean * Math.log(1 - stream())
}
