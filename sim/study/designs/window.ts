import { TICKS_PER_HOUR } from '../../plan/plan.ts'
import type { Course } from './course.ts'

/** The part of each replication that is measured, the same for all designs of a comparison [h]. */
export interface WindowHours {
  readonly cutHours: number
  readonly windowHours: number
}

export function windowOf({ blocks }: Pick<Course, 'blocks'>, cut: number): WindowHours {
  const block = blocks.coarse / TICKS_PER_HOUR
  return { cutHours: cut * block, windowHours: (blocks.coarseCount - cut) * block }
}
