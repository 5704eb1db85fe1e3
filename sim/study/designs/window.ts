import { COARSE_BLOCKS, FINE_PER_COARSE } from '../../engine/blocks.ts'
import { TICKS_PER_HOUR } from '../../plan/plan.ts'
import type { Course } from './course.ts'

/** The part of each replication that is measured, the same for all designs of a comparison [h]. */
export interface WindowHours {
  readonly cutHours: number
  readonly windowHours: number
}

export function windowOf({ fine }: Pick<Course, 'fine'>, cut: number): WindowHours {
  const block = (FINE_PER_COARSE * fine) / TICKS_PER_HOUR
  return { cutHours: cut * block, windowHours: (COARSE_BLOCKS - cut) * block }
}
