import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import type { Feed, Item, Line, Step } from '../../sim/line/types.ts'

/** Building blocks of the lines of the checks. A time unit of a source is one minute. */
export function minutes(units: number): Time {
  return `${units} min`
}

export function exponential(mean: number): Spread<Time> {
  return { exponential: minutes(mean) }
}

/** Sum of `phases` exponential times with this mean in all. */
export function erlang(phases: number, mean: number): Spread<Time> {
  return { gamma: minutes(mean), cv: 1 / Math.sqrt(phases) }
}

type ScheduledFeed = Exclude<Feed, string>
type Server = Omit<Step, 'step'>

/** Wafers come by a schedule to an endless queue before one step. */
export function queue(line: string, feed: ScheduledFeed, server: Server): Line {
  return {
    line,
    feed,
    route: [
      { buffer: 'queue', capacity: 'unlimited' },
      { step: 'server', ...server },
    ],
  }
}

/**
 * Steps in a row, named 1, 2, ..., always with wafers before the first and room behind
 * the last, with buffers "buffer 1", ... of the given numbers of places between them.
 * Places inside the tools are not counted among them.
 */
export function serial(line: string, steps: readonly Server[], places: readonly number[]): Line {
  return { line, route: serialRoute(steps, places) }
}

export function serialRoute(
  steps: readonly Server[],
  places: readonly (number | 'unlimited')[],
): readonly Item[] {
  return steps.flatMap((step, index): Item[] => [
    ...(index === 0 ? [] : [{ buffer: `buffer ${index}`, capacity: places[index - 1] }]),
    { step: stepName(index), ...step },
  ])
}

/** Name of the step at this place in a serial line, counted from 0. */
export function stepName(index: number): string {
  return `step ${index + 1}`
}

/** Equal steps with this time per wafer. */
export function equalSteps(count: number, cycle: Spread<Time>): Server[] {
  return Array.from({ length: count }, () => ({ cycle }))
}
