import type { Estimate } from './estimate.ts'

/** The estimate of `factor` times the figure; a factor below zero turns the interval round. */
export function scaled({ mean, low, high, n }: Estimate, factor: number): Estimate {
  if (low === undefined || high === undefined) return { mean: mean * factor, n }
  const ends = [low * factor, high * factor]
  return { mean: mean * factor, low: Math.min(...ends), high: Math.max(...ends), n }
}
