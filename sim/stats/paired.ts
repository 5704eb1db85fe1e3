import type { Estimate } from './estimate.ts'
import { estimateWithin } from './resolution.ts'

/**
 * Paired-t estimate of what a change does: mean of changed_i - base_i with its
 * Student-t interval. The values at one index come from the same streams, so what
 * chance does to both alike drops out.
 * Source: Student (1908), Biometrika 6, 1-25; for simulation Law, Simulation
 * Modeling and Analysis, section on comparing two systems.
 *
 * @param resolution by how much a difference can be off at best, see `estimateWithin`
 *
 * Throws RangeError when the two lists differ in length or are empty.
 */
export function pairedDifference(
  changed: readonly number[],
  base: readonly number[],
  level: number,
  resolution = 0,
): Estimate {
  if (changed.length !== base.length)
    throw new RangeError(`pairs need equal numbers of values, not ${changed.length} and ${base.length}`)
  return estimateWithin(
    changed.map((value, i) => value - base[i]),
    level,
    resolution,
  )
}
