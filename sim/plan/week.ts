import { TICKS_PER_WEEK } from './plan.ts'

/** What holds from a tick of the week on, until the next entry; entries are sorted, the first at 0. */
interface WeekStep {
  readonly from: number
}

/** The entry that holds at a tick of the run. */
export function inForce<S extends WeekStep>(steps: readonly S[], time: number): S {
  const inWeek = time % TICKS_PER_WEEK
  let step = steps[0]
  for (const next of steps) if (next.from <= inWeek) step = next
  return step
}

/** The first tick after `time` at which an entry begins, week after week; Infinity when there is one entry only. */
export function nextStep(steps: readonly WeekStep[], time: number): number {
  if (steps.length <= 1) return Infinity
  const week = time - (time % TICKS_PER_WEEK)
  for (const { from } of steps) if (week + from > time) return week + from
  return week + TICKS_PER_WEEK
}
