import { studentFactor } from './student.ts'

/** What a pilot run of n replications showed; `sd` divided by n - 1. */
export interface Pilot {
  readonly mean: number
  readonly sd: number
  readonly n: number
}

/**
 * Replications needed so that the true relative error stays below `wanted`: the
 * smallest n, not below the pilot's own, with
 * t(n - 1) s / (sqrt(n) |mean|) <= wanted / (1 + wanted).
 * The right side is a little less than `wanted`, since the half-width is measured
 * against the estimated mean while the error is meant against the true one.
 * Source: Law, Simulation Modeling and Analysis, section on obtaining a specified
 * precision.
 *
 * Infinity when the mean is 0 and the values vary. Throws RangeError unless
 * wanted > 0 and the pilot has at least two replications.
 */
export function replicationsNeeded(pilot: Pilot, wanted: number, level: number): number {
  if (!(wanted > 0)) throw new RangeError(`a wanted precision is above 0, not ${wanted}`)
  if (pilot.n < 2) throw new RangeError('a pilot needs at least two replications')
  const target = (wanted / (1 + wanted)) * Math.abs(pilot.mean)
  const enough = (n: number) => studentFactor(level, n - 1) * pilot.sd <= target * Math.sqrt(n)
  if (enough(pilot.n)) return pilot.n
  if (target === 0) return Infinity
  let tooFew = pilot.n
  let plenty = 2 * pilot.n
  while (!enough(plenty)) {
    tooFew = plenty
    plenty *= 2
  }
  while (plenty - tooFew > 1) {
    const between = Math.floor((tooFew + plenty) / 2)
    if (enough(between)) plenty = between
    else tooFew = between
  }
  return plenty
}
