import type { Stream } from './streams.ts'

/**
 * Geometric law: a whole number N >= 1 of steps, P(N > n) = (1 - q)^n with the
 * chance q = step / mean that a step is the last. Value N x step.
 * Source: Johnson, Kemp & Kotz, Univariate Discrete Distributions (2005),
 * chapter 5 (there counted from 0).
 *
 * Variance: step^2 (1 - q) / q^2 = mean (mean - step).
 */
export function geometricVariance(mean: number, step: number): number {
  return mean * (mean - step)
}

/** Smallest value x with P(X <= x) >= p. Infinity at p = 1 (unless mean = step). */
export function geometricQuantile(mean: number, step: number, p: number): number {
  if (mean <= step) return step
  const steps = Math.log1p(-p) / Math.log1p(-step / mean)
  // A number of steps that is whole but for rounding is taken as whole.
  return step * Math.max(1, Math.ceil(steps * (1 - 1e-14)))
}

export function geometricLawSampler(mean: number, step: number, stream: Stream): () => number {
  const count = stepSampler(step / mean, stream)
  return () => step * count()
}

/**
 * Draws N itself, 1 <= N, for the chance q = `share`, 0 < share < 1.
 * By inversion: the smallest n with 1 - (1 - q)^n > u.
 */
export function stepSampler(share: number, stream: Stream): () => number {
  const logOn = Math.log1p(-share)
  return () => {
    const u = stream()
    // Compared directly so that P(N = 1) is `share` itself, not its rounded logarithm.
    if (u < share) return 1
    return Math.max(2, Math.floor(Math.log(1 - u) / logOn) + 1)
  }
}
