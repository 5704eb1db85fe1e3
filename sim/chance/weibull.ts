import gammaln from '@stdlib/math-base-special-gammaln'
import type { Stream } from './streams.ts'

/**
 * Weibull law by its mean m and shape k: P(X <= x) = 1 - exp(-(x / s)^k) with the
 * scale s = m / Gamma(1 + 1/k).
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1
 * (1994), chapter 21.
 */
export function weibullScale(mean: number, shape: number): number {
  return mean / Math.exp(gammaln(1 + 1 / shape))
}

/** m^2 (Gamma(1 + 2/k) / Gamma(1 + 1/k)^2 - 1), without the cancellation at large k. */
export function weibullVariance(mean: number, shape: number): number {
  return mean * mean * Math.expm1(gammaln(1 + 2 / shape) - 2 * gammaln(1 + 1 / shape))
}

/** x with P(X <= x) = p: s (-ln(1 - p))^(1/k). */
export function weibullQuantile(mean: number, shape: number, p: number): number {
  return weibullScale(mean, shape) * (-Math.log1p(-p)) ** (1 / shape)
}

export function weibullSampler(mean: number, shape: number, stream: Stream): () => number {
  const scale = weibullScale(mean, shape)
  const power = 1 / shape
  return () => scale * (-Math.log(1 - stream())) ** power
}
