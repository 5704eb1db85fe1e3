import { type Blocks, FINE_PER_COARSE } from '../engine/blocks.ts'
import { mser, mser5 } from '../stats/warm-up-cut.ts'

/** Where the measured window starts. */
export interface Cut {
  /** Coarse blocks cut off. */
  readonly blocks: number
  /** Coarse blocks that MSER has found, rounded up. */
  readonly found: number
  readonly settled: boolean
}

/** A replication, as far as its good output goes: cumulative, by fine block. */
interface WithGood {
  readonly line: { readonly good: Float64Array }
  readonly blocks: Blocks
  readonly cutBy: number
  readonly patterned: boolean
}

/** Fewer days (weeks) than this say nothing of where the output settles. */
const FEWEST_UNITS = 5

/**
 * The warm-up by MSER-5 on good output per fine block, averaged over the replications,
 * rounded up to a coarse block, at most half of the run. Where hours or days differ by the
 * clock, a run loses whole days or weeks only, or nothing if it is too short; with at least
 * five of them the rule looks at their sums, since closed hours hide from it what comes
 * within them.
 */
export function cutWarmUp(rows: readonly WithGood[]): Cut {
  const [{ blocks, cutBy, patterned }] = rows
  const good = (from: number, to: number) =>
    rows.reduce((sum, { line }) => sum + line.good[to] - line.good[from], 0) / rows.length
  const sums = (each: number) =>
    Array.from({ length: Math.floor(blocks.fineCount / each) }, (_, i) => good(i * each, (i + 1) * each))
  const unit = cutBy * FINE_PER_COARSE
  const { found, settled } =
    patterned && unit > 0 && blocks.fineCount >= FEWEST_UNITS * unit
      ? byUnits(sums(unit), cutBy)
      : byBlocks(sums(1), Math.floor(blocks.coarseCount / 2))
  return { blocks: wholeCut(found, blocks.coarseCount, cutBy), found, settled }
}

function byBlocks(course: readonly number[], most: number): Omit<Cut, 'blocks'> {
  const { observations, settled } = mser5(course)
  return { found: Math.min(Math.ceil(observations / FINE_PER_COARSE), most), settled }
}

function byUnits(course: readonly number[], cutBy: number): Omit<Cut, 'blocks'> {
  const { cut } = mser(course)
  return { found: cut * cutBy, settled: cut < Math.floor(course.length / 2) }
}

/** So many of the coarse blocks of a run rounded up to a whole number of cuts, at most half of the run. */
export function wholeCut(blocks: number, of: number, cutBy: number): number {
  if (cutBy === 0) return 0
  const most = Math.floor(of / 2 / cutBy) * cutBy
  return Math.min(Math.ceil(blocks / cutBy) * cutBy, most)
}
