import { COARSE_BLOCKS } from '../engine/blocks.ts'
import { STAY_BINS, stayEdge } from '../engine/stays.ts'

/**
 * Quantile of the stays counted from coarse block `cut` on [ticks], by linear
 * interpolation within the class; undefined when nothing left the line.
 */
export function stayQuantile(stays: Uint32Array, cut: number, p: number): number | undefined {
  const counts = new Float64Array(STAY_BINS)
  for (let block = cut; block < COARSE_BLOCKS; block++)
    for (let bin = 0; bin < STAY_BINS; bin++) counts[bin] += stays[block * STAY_BINS + bin]
  const total = counts.reduce((sum, count) => sum + count, 0)
  if (total === 0) return undefined
  let below = 0
  for (let bin = 0; bin < STAY_BINS; bin++) {
    const next = below + counts[bin]
    if (next >= p * total && counts[bin] > 0) {
      const share = (p * total - below) / counts[bin]
      return stayEdge(bin) + share * (stayEdge(bin + 1) - stayEdge(bin))
    }
    below = next
  }
  return stayEdge(STAY_BINS)
}
