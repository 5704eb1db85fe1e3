import { type Estimate, estimate } from './estimate.ts'

/**
 * Paired-t estimate of what a change does: mean of changed_i - base_i with its
 * Student-t interval. The values at one index come from the same streams, so what
 * chance does to both alike drops out.
 * Source: Student (1908), Biometrika 6, 1-25; for simulation Law, Simulation
 * Modeling and Analysis, section on comparing two systems.
 *
 * Throws RangeError when the two lists differ in length or are empty.
 */
export function pairedDifference(
  changed: readonly number[],
  base: readonly number[],
  level: number,
): Estimate {
  if (changed.length !== base.length)
    throw new RangeError(`pairs need equal numbers of values, not ${changed.length} and ${base.length}`)
  return estimate(
    changed.map((value, i) => value - base[i]),
    level,
  )
}
