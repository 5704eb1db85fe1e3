import { type Estimate, estimate } from './estimate.ts'

/** So much more than the resolution itself that rounding in the last digits does not decide. */
const SLACK = 1e-9

/**
 * An estimate whose interval is no narrower than what each of its values can tell at best.
 *
 * A rate is a count over the hours in which it was counted, and where a window begins and
 * ends decides whether one piece more is in it: a rate is known to one piece over the hours, in
 * its unit, a difference of two rates to two. Where chance has a part in it replications
 * scatter by far more; where it has none they are all alike, and an interval from their
 * scatter alone has no width though none of them is exact.
 *
 * @param resolution by how much a value can be off, in its unit, at least 0
 */
export function estimateWithin(values: readonly number[], level: number, resolution: number): Estimate {
  const { mean, low, high, n } = estimate(values, level)
  if (low === undefined || high === undefined) return { mean, n }
  const half = resolution * (1 + SLACK)
  return { mean, low: Math.min(low, mean - half), high: Math.max(high, mean + half), n }
}
