import type { Law } from '../../sim/chance/law.ts'

/** Laws of every kind with easy and hard figures, for the tests that hold for all kinds alike. */

export const CONTINUOUS: readonly Law[] = [
  { kind: 'exponential', mean: 45 },
  { kind: 'lognormal', mean: 10, cv: 0.4 },
  { kind: 'lognormal', mean: 0.02, cv: 3 },
  { kind: 'gamma', mean: 30, cv: 0.6 },
  { kind: 'gamma', mean: 3600, cv: 0.01 },
  { kind: 'gamma', mean: 5, cv: 3 },
  { kind: 'weibull', mean: 120, shape: 2.1 },
  { kind: 'weibull', mean: 7200, shape: 0.7 },
  { kind: 'normal', mean: 50, sd: 15, least: 0, most: Infinity },
  { kind: 'normal', mean: 10, sd: 6, least: 2, most: 20 },
  { kind: 'normal', mean: -20, sd: 5, least: 0, most: Infinity },
  { kind: 'normal', mean: 3, sd: 1, least: -Infinity, most: 1 },
  { kind: 'triangular', least: 20, mode: 25, most: 40 },
  { kind: 'triangular', least: 1, mode: 1, most: 3 },
  { kind: 'triangular', least: 1, mode: 3, most: 3 },
  { kind: 'uniform', least: 8, most: 14 },
]

export const GEOMETRIC: readonly Law[] = [
  { kind: 'geometric', mean: 30, step: 1 },
  { kind: 'geometric', mean: 90, step: 60 },
  { kind: 'geometric', mean: 1e6, step: 1 },
]

export const OBSERVED = { kind: 'observed', values: [7, 3, 9, 3, 12] } as const
export const REPLAYED = { kind: 'replayed', values: [7, 3, 9, 3, 12] } as const
export const FIXED = { kind: 'fixed', value: 1.2 } as const

export const DRAWN: readonly Law[] = [...CONTINUOUS, ...GEOMETRIC, OBSERVED]

export function nameOf(law: Law): string {
  return JSON.stringify(law, (_, value) => (Math.abs(value) === Infinity ? String(value) : value))
}
