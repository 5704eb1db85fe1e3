import { expect } from 'vitest'

/** Fails unless `found` is within the given relative distance of `expected`, which is not 0. */
export function relativelyCloseTo(found: number, expected: number, tolerance: number): void {
  const distance = Math.abs(found / expected - 1)
  expect(distance, `${found} is ${distance} away from ${expected}`).toBeLessThanOrEqual(tolerance)
}
