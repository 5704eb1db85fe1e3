import { FINE_PER_COARSE } from '../../engine/blocks.ts'
import { TICKS_PER_HOUR } from '../../plan/plan.ts'
import { lumpsOf } from '../../stats/lumps.ts'
import { mean } from '../../stats/summary.ts'
import { type Course, outputOf } from './course.ts'

/** The part of each replication that is measured, the same for all designs of a comparison [h]. */
export interface WindowHours {
  readonly cutHours: number
  readonly windowHours: number
  /** Mean time that a good cell has spent in the first design [h]; absent when it has made none. */
  readonly stayHours?: number
}

/** Replications of a design, as far as their counts go. */
type Counted = readonly Pick<Course, 'line' | 'blocks' | 'cutBy' | 'patterned'>[]

/**
 * By how much what is counted over the window can be off, since its edges let cells in or not: each count by
 * one cell, or by what leaves the line together in the same rhythm in all replications (`lumpsOf`)
 * [cells/h].
 *
 * @param cut first coarse block of the window
 * @param plus designs whose good cells are counted; with `minus` the figure is their sum without those of these
 * @param what is counted of them
 */
export function resolutionOf(
  cut: number,
  plus: readonly Counted[],
  minus: readonly Counted[] = [],
  what: 'good' | 'started' = 'good',
): number {
  const [[{ blocks, cutBy, patterned }]] = plus
  const { coarse, coarseCount } = blocks
  // Where hours differ by the clock only whole days or weeks compare.
  const each = patterned ? FINE_PER_COARSE * Math.max(1, cutBy) : 1
  const from = cut * FINE_PER_COARSE
  const moments = Math.floor(((coarseCount - cut) * FINE_PER_COARSE) / each) + 1
  const paths = plus[0].map((_, r) =>
    Float64Array.from({ length: moments }, (_, moment) => {
      const of = (sum: number, design: Counted) => {
        const count = design[r].line[what]
        return sum + count[from + moment * each] - count[from]
      }
      return plus.reduce(of, 0) - minus.reduce(of, 0)
    }),
  )
  const pieces = Math.max(plus.length + minus.length, lumpsOf(paths))
  return (pieces * TICKS_PER_HOUR) / ((coarseCount - cut) * coarse)
}

/** Windows so many times longer than the way through a line hardly feel how it began. */
const LONG = 50
/** A window that begins less than this share earlier than a cell is through begins as late as that. */
const NEARLY = 0.98

/** The window of a design from coarse block `cut` on. @param courses its replications */
export function windowOf(courses: readonly Course[], cut: number): WindowHours {
  const { coarse, coarseCount } = courses[0].blocks
  const block = coarse / TICKS_PER_HOUR
  const stays = courses.flatMap(course => outputOf(course, cut).throughputHours ?? [])
  return {
    cutHours: cut * block,
    windowHours: (coarseCount - cut) * block,
    ...(stays.length > 0 && { stayHours: mean(stays) }),
  }
}

/** Whether a window begins before the line can have filled, and is not so long that it does not matter. */
export function beginsEarly({ cutHours, windowHours, stayHours }: WindowHours): boolean {
  return stayHours !== undefined && cutHours < NEARLY * stayHours && windowHours < LONG * stayHours
}
