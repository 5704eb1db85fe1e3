import type { TimeLimit } from '../line/types.ts'
import { share, ticks } from './laws.ts'
import type { TimeLimitPlan } from './plan.ts'

/**
 * A time limit, but for its column, which depends on all others (`stamps.ts`).
 *
 * @param after index of the step that it counts from
 * @param sendBack lays the way back to a step
 */
export function limitPlan(
  { atMost, late }: TimeLimit,
  after: number,
  sendBack: (to: string) => { channel: number; loop: number },
): TimeLimitPlan {
  const plan = { after, stamp: -1, atMost: ticks(atMost), loses: 0, back: 0 }
  const stays = { channel: -1, loop: -1, thenScrap: true }
  if (late === 'scrap') return { ...plan, ...stays, late: 'scrap' }
  if ('loses' in late) return { ...plan, ...stays, late: 'pass', loses: share(late.loses) }
  return { ...plan, ...sendBack(late.to), late: 'back', back: late.atMost, thenScrap: late.then !== 'pass' }
}
