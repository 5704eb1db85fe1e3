import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/**
 * Factor by which a standard error is multiplied for a two-sided Student-t
 * interval: the quantile at (1 + level) / 2 with the given degrees of freedom.
 * Source of the interval: Student (1908), Biometrika 6, 1-25.
 *
 * Throws RangeError unless 0 < level < 1 and degrees > 0.
 */
export function studentFactor(level: number, degrees: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`a level lies between 0 and 1, not at ${level}`)
  if (!(degrees > 0)) throw new RangeError(`degrees of freedom are above 0, not ${degrees}`)
  // By the lower tail: the levels near 1 that many comparisons ask for keep their digits there.
  return -tQuantile((1 - level) / 2, degrees)
}
