import { expect } from 'vitest'

/** Fails unless `found` equals `expected` or is within the given relative distance of it. */
export function relativelyCloseTo(found: number, expected: number, tolerance: number): void {
  const distance = found === expected ? 0 : Math.abs(found / expected - 1)
  expect(distance, `${found} is ${distance} away from ${expected}`).toBeLessThanOrEqual(tolerance)
}
