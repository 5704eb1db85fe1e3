/** Constants of a fully sequential procedure with c = 1 (the region of continuation is a triangle). */
export interface Sequential {
  readonly eta: number
  /** 2 c eta (n0 - 1). */
  readonly hSquared: number
}

/**
 * Constants for one comparison that may go wrong with probability `error`, its variance
 * estimated from `first` values: eta = ((2 error)^(-2 / (first - 1)) - 1) / 2. To pick the
 * best of k with error alpha in all, `error` is alpha / (k - 1).
 * Source: Kim & Nelson (2001), ACM Transactions on Modeling and Computer Simulation 11,
 * 251-273 (from memory).
 *
 * Throws RangeError unless 0 < error < 1/2 and first is at least 2.
 */
export function sequentialConstants(error: number, first: number): Sequential {
  if (!(error > 0 && error < 0.5)) throw new RangeError(`an error lies between 0 and 1/2, not at ${error}`)
  if (!(first >= 2)) throw new RangeError(`a variance needs at least two values, not ${first}`)
  const eta = ((2 * error) ** (-2 / (first - 1)) - 1) / 2
  return { eta, hSquared: 2 * eta * (first - 1) }
}
