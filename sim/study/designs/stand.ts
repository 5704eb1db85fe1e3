import { BLOCKED, NON_SCHEDULED, PRODUCTIVE, STARVED, STATES } from '../../engine/meter.ts'
import { TICKS_PER_HOUR } from '../../plan/plan.ts'
import { type Estimate, estimate } from '../../stats/estimate.ts'
import type { Course } from './course.ts'

/** Shares of tool time, adding up to 1. Down is every stop and the wait for people; off is outside the shifts. */
export interface TimeShares {
  readonly productive: Estimate
  readonly starved: Estimate
  readonly blocked: Estimate
  readonly down: Estimate
  readonly off: Estimate
}

/** How one step of a design stood over the window. */
export interface StepStand {
  readonly name: string
  /** Tools in all lanes together (tubes for a batch tool). */
  readonly tools: number
  readonly passedPerHour: Estimate
  readonly states: TimeShares
}

/**
 * How the steps of a design stood, from the courses of its replications.
 *
 * @param names of the steps, in the order of the plan
 * @param cut first coarse block of the window
 */
export function standOf(
  names: readonly string[],
  courses: readonly Course[],
  cut: number,
  level: number,
): StepStand[] {
  const { coarse, horizon } = courses[0].blocks
  const ticks = horizon - cut * coarse
  return names.map((name, s) => {
    const tools = courses[0].tools[s]
    const state = (course: Course, index: number) =>
      gain(course.states, STATES * names.length, STATES * s + index, cut) / (tools * ticks)
    const share = (of: (course: Course) => number) => estimate(courses.map(of), level)
    const told = [PRODUCTIVE, STARVED, BLOCKED, NON_SCHEDULED]
    const rest = Array.from({ length: STATES }, (_, index) => index).filter(index => !told.includes(index))
    return {
      name,
      tools,
      passedPerHour: share(course => gain(course.passed, names.length, s, cut) / (ticks / TICKS_PER_HOUR)),
      states: {
        productive: share(course => state(course, PRODUCTIVE)),
        starved: share(course => state(course, STARVED)),
        blocked: share(course => state(course, BLOCKED)),
        down: share(course => rest.reduce((sum, index) => sum + state(course, index), 0)),
        off: share(course => state(course, NON_SCHEDULED)),
      },
    }
  })
}

/** Growth of one column of coarse rows from row `cut` to the last. */
function gain(table: Float64Array, columns: number, column: number, cut: number): number {
  return table[table.length - columns + column] - table[cut * columns + column]
}
