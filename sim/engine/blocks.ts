/**
 * A run is cut into equal blocks, so that the warm-up can be cut off after the run,
 * at any block, and memory does not grow with simulated time. Counts are kept per
 * fine block (for series and the warm-up rule), everything else per coarse block.
 */
export const FINE_PER_COARSE = 10
export const COARSE_BLOCKS = 50
export const FINE_BLOCKS = FINE_PER_COARSE * COARSE_BLOCKS

export interface Blocks {
  /** Length of a fine block [ticks]. */
  readonly fine: number
  /** The flows of a fine block are summed in this many parts, so that the sums stay whole numbers. */
  readonly parts: number
  /** Length of a coarse block [ticks]. */
  readonly coarse: number
  /** End of the run [ticks]: the wished end, rounded up to whole blocks, by less than a second. */
  readonly horizon: number
}

/** Longest part [ticks]: 6 h. */
const LONGEST_PART = 2.16e10

/** @param ticks wished length of the run, at least 500 */
export function blocksFor(ticks: number): Blocks {
  const parts = Math.max(1, Math.ceil(ticks / FINE_BLOCKS / LONGEST_PART))
  const fine = Math.ceil(ticks / FINE_BLOCKS / parts) * parts
  return { fine, parts, coarse: fine * FINE_PER_COARSE, horizon: fine * FINE_BLOCKS }
}
