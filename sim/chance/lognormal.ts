import { normalScore } from './normal.ts'
import type { Stream } from './streams.ts'

/**
 * Lognormal law by its mean m and coefficient of variation c: ln X is normal with
 * variance s^2 = ln(1 + c^2) and mean ln m - s^2 / 2. Variance of X: (c m)^2.
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1
 * (1994), chapter 14.
 */
export function lognormalQuantile(mean: number, cv: number, p: number): number {
  const { centre, sd } = logMoments(mean, cv)
  return Math.exp(centre + sd * normalScore(p))
}

export function lognormalSampler(mean: number, cv: number, stream: Stream): () => number {
  const { centre, sd } = logMoments(mean, cv)
  return () => Math.exp(centre + sd * normalScore(stream()))
}

function logMoments(mean: number, cv: number): { centre: number; sd: number } {
  const variance = Math.log1p(cv * cv)
  return { centre: Math.log(mean) - variance / 2, sd: Math.sqrt(variance) }
}
