import * as Plans from '../plan/plan.ts'

const { TICKS_PER_DAY } = Plans

/**
 * A run is cut into equal blocks, so that the warm-up can be cut off after the run,
 * at any block, and memory does not grow with simulated time. Counts are kept per
 * fine block (for series and the warm-up rule), everything else per coarse block.
 */
export interface Blocks {
  /** Length of a fine block [ticks]. */
  readonly fine: number
  /** The flows of a fine block are summed in this many parts, so that the sums stay whole numbers. */
  readonly parts: number
  /** Length of a coarse block [ticks]. */
  readonly coarse: number
  /** Coarse blocks of the run, fine blocks of the run. */
  readonly coarseCount: number
  readonly fineCount: number
  /** End of the run [ticks]: the wished end, rounded up to whole blocks, by less than a second. */
  readonly horizon: number
}

export const FINE_PER_COARSE = 10
/** Coarse blocks of a run in which days are not to be kept apart, at least, and at most. */
export const COARSE_BLOCKS = 50
const MOST_BLOCKS = 100
const LEAST_BLOCKS = 25
export const FINE_BLOCKS = FINE_PER_COARSE * COARSE_BLOCKS

/** Longest part [ticks]: 6 h. */
const LONGEST_PART = 2.16e10

/** @param ticks wished length of the run, at least 500 */
export function blocksFor(ticks: number): Blocks {
  const coarseCount = countFor(ticks / TICKS_PER_DAY)
  const fineCount = FINE_PER_COARSE * coarseCount
  const parts = Math.max(1, Math.ceil(ticks / fineCount / LONGEST_PART))
  const fine = Math.ceil(ticks / fineCount / parts) * parts
  return { fine, parts, coarse: fine * FINE_PER_COARSE, coarseCount, fineCount, horizon: fine * fineCount }
}

/** In runs of whole days no block begins in one day and ends in another, or blocks are whole days, if some 25 to 100 blocks can be so. */
function countFor(days: number): number {
  if (!Number.isInteger(days)) return COARSE_BLOCKS
  if (days <= COARSE_BLOCKS) {
    let each = Math.ceil(COARSE_BLOCKS / days)
    // Fine blocks are whole ticks.
    while (TICKS_PER_DAY % (FINE_PER_COARSE * each) !== 0) each++
    return each * days
  }
  for (let each = Math.ceil(days / MOST_BLOCKS); days / each >= LEAST_BLOCKS; each++)
    if (days % each === 0) return days / each
  return COARSE_BLOCKS
}
