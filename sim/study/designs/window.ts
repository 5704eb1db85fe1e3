import { TICKS_PER_HOUR } from '../../plan/plan.ts'
import { mean } from '../../stats/summary.ts'
import { type Course, outputOf } from './course.ts'

/** The part of each replication that is measured, the same for all designs of a comparison [h]. */
export interface WindowHours {
  readonly cutHours: number
  readonly windowHours: number
  /** Mean time that a good cell has spent in the first design [h]; absent when it has made none. */
  readonly stayHours?: number
}

/**
 * By how much what is counted over the window can be off: each count by one cell, which the
 * edges of the window let in or not [cells/h].
 *
 * @param cut first coarse block of the window
 * @param counts that the figure is put together from: 1 for a rate, 2 for a difference of two
 */
export function resolutionOf({ blocks }: Pick<Course, 'blocks'>, cut: number, counts: number): number {
  const { coarse, coarseCount } = blocks
  return (counts * TICKS_PER_HOUR) / ((coarseCount - cut) * coarse)
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
