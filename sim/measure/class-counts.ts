import type { Classes } from '../engine/classes.ts'

/**
 * Counts by class over the blocks from coarse block `cut` on.
 *
 * @param table block x series x class
 * @param series how many series the table holds side by side, and which one is wanted
 */
export function classCounts(
  table: Uint32Array,
  { count }: Classes,
  cut: number,
  series: { readonly of: number; readonly index: number } = { of: 1, index: 0 },
): Float64Array {
  const counts = new Float64Array(count)
  const width = series.of * count
  for (let block = cut * width; block < table.length; block += width) {
    const row = block + series.index * count
    for (let i = 0; i < count; i++) counts[i] += table[row + i]
  }
  return counts
}

/** Quantile of what was counted [ticks], by linear interpolation within the class; undefined when nothing was. */
export function classQuantile(counts: Float64Array, classes: Classes, p: number): number | undefined {
  const total = counts.reduce((sum, count) => sum + count, 0)
  if (total === 0) return undefined
  let below = 0
  for (let i = 0; i < counts.length; i++) {
    const next = below + counts[i]
    if (next >= p * total && counts[i] > 0) {
      const share = (p * total - below) / counts[i]
      return classes.edge(i) + share * (classes.edge(i + 1) - classes.edge(i))
    }
    below = next
  }
  return classes.edge(counts.length)
}
