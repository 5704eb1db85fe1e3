import { COARSE_BLOCKS, FINE_BLOCKS, FINE_PER_COARSE } from '../engine/blocks.ts'
import { mser5 } from '../stats/warm-up-cut.ts'

/** Where the measured window starts. */
export interface Cut {
  /** Coarse blocks cut off. */
  readonly blocks: number
  /** Coarse blocks that MSER-5 has found, rounded up. */
  readonly found: number
  readonly settled: boolean
}

/** A replication, as far as its good output goes: cumulative, by fine block. */
interface WithGood {
  readonly line: { readonly good: Float64Array }
  readonly cutBy: number
}

/**
 * The warm-up by MSER-5 on good output per fine block, averaged over the replications,
 * rounded up to a coarse block (2 % of the run), at most half of the run. Where hours or
 * days differ by the clock, a run loses whole days or weeks only, or nothing if it is too short.
 */
export function cutWarmUp(rows: readonly WithGood[]): Cut {
  const course = Array.from(
    { length: FINE_BLOCKS },
    (_, b) => rows.reduce((sum, { line }) => sum + line.good[b + 1] - line.good[b], 0) / rows.length,
  )
  const { observations, settled } = mser5(course)
  const found = Math.ceil(observations / FINE_PER_COARSE)
  return { blocks: wholeCut(found, rows[0].cutBy), found, settled }
}

/** So many coarse blocks rounded up to a whole number of cuts, at most half of the run; where a cut is no whole number of blocks, to the nearest block. */
export function wholeCut(blocks: number, cutBy: number): number {
  if (cutBy === 0) return 0
  const most = Math.floor(COARSE_BLOCKS / 2 / cutBy)
  const cuts = Math.max(0, Math.ceil((blocks - 0.5) / cutBy))
  return Math.round(Math.min(cuts, most) * cutBy)
}
