import { STAYS } from '../engine/classes.ts'
import { classCounts, classQuantile } from '../measure/class-counts.ts'
import type { Rows } from '../measure/rows.ts'
import { TICKS_PER_HOUR } from '../plan/plan.ts'
import { estimateOf } from './assemble.ts'
import type { StayClass } from './run-study.ts'

/** Most classes that a distribution is shown in. */
const MOST_CLASSES = 40
/** The classes span all but this share of the wafers at either end; the end classes hold the rest too. */
const TAIL = 0.002

/**
 * How long good wafers were in the line, in classes of equal width, over the window from
 * coarse block `cut` on. The books keep stays in fine classes of constant ratio: one that
 * lies across an edge is split in proportion. Empty when nothing left the line.
 */
export function stayClasses(rows: readonly Rows[], cut: number, level: number): StayClass[] {
  const edges = edgesOf(pooled(rows), cut)
  if (edges.length < 2) return []
  const shares = rows.map(({ line }) => sharesOf(line.stays, cut, edges))
  return edges.slice(1).map((to, index) => ({
    from: edges[index] / TICKS_PER_HOUR,
    to: to / TICKS_PER_HOUR,
    share: estimateOf(
      shares.map(one => one?.[index]),
      level,
    ),
  }))
}

function pooled(rows: readonly Rows[]): Uint32Array {
  const sum = new Uint32Array(rows[0].line.stays.length)
  for (const { line } of rows) for (let i = 0; i < sum.length; i++) sum[i] += line.stays[i]
  return sum
}

/** Edges [ticks] at whole multiples of 1, 2 or 5 times a power of ten of an hour, minute or second. */
function edgesOf(stays: Uint32Array, cut: number): number[] {
  const counts = classCounts(stays, STAYS, cut)
  const low = classQuantile(counts, STAYS, TAIL)
  const high = classQuantile(counts, STAYS, 1 - TAIL)
  if (low === undefined || high === undefined) return []
  const width = roundWidth((high - low) / MOST_CLASSES, high)
  const first = Math.floor(low / width)
  const last = Math.max(first + 1, Math.ceil(high / width))
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i) * width)
}

function roundWidth(least: number, size: number): number {
  const unit = size >= TICKS_PER_HOUR ? TICKS_PER_HOUR : TICKS_PER_HOUR / 60
  // All stays alike: a class of a thousandth of them.
  const wanted = Math.max(least, size / 1000) / unit
  const power = 10 ** Math.floor(Math.log10(wanted))
  const factor = [1, 2, 5, 10].find(f => f * power >= wanted) ?? 10
  return factor * power * unit
}

function sharesOf(stays: Uint32Array, cut: number, edges: readonly number[]): number[] | undefined {
  const counts = classCounts(stays, STAYS, cut)
  const total = counts.reduce((sum, count) => sum + count, 0)
  if (total === 0) return undefined
  const last = edges.length - 2
  const shares = new Array<number>(last + 1).fill(0)
  const width = edges[1] - edges[0]
  const classAt = (stay: number) => Math.min(last, Math.max(0, Math.floor((stay - edges[0]) / width)))
  counts.forEach((count, bin) => {
    if (count === 0) return
    const [from, to] = [STAYS.edge(bin), STAYS.edge(bin + 1)]
    for (let at = classAt(from); at <= classAt(to); at++) {
      const start = at === 0 ? from : Math.max(from, edges[at])
      const end = at === last ? to : Math.min(to, edges[at + 1])
      shares[at] += ((count / total) * Math.max(0, end - start)) / (to - from)
    }
  })
  return shares
}
