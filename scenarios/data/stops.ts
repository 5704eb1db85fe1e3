import type { Spread, Stop, Time } from 'linewright'

/** Ways to write down the stops of the demo line, which are many and of few kinds. */

export const INVENTED = 'invented'
export const FROM_MEMORY = 'from memory of the trade'
export const COMMON_PRACTICE = 'common practice, no source'

type Hours = `${number} h`
type Minutes = `${number} min`
/** What a stop may say besides: its clock, what becomes of the wafers inside, its source. */
type More = Pick<Stop, 'counts' | 'inside' | 'from'>

/** An unscheduled stop: exponential time between two, lognormal length with its coefficient of variation. */
export function fault(stop: string, every: Hours, lasts: Minutes, cv: number, more: More = {}): Stop {
  return { stop, every: { exponential: every }, lasts: { lognormal: lasts, cv }, from: INVENTED, ...more }
}

/**
 * A stop of one lane of a tool whose lanes are one belt here: all lanes together have
 * it as many times as often, and each time the belt stands for the share of one lane.
 */
export function laneFault(
  lanes: number,
  stop: string,
  every: Hours,
  lasts: Minutes,
  cv: number,
  more: More = {},
): Stop {
  return fault(stop, `${parsed(every, 1 / lanes)} h`, `${parsed(lasts, 1 / lanes)} min`, cv, more)
}

/**
 * A stop of the loader that serves the tubes of a tool. The language has stops of tubes
 * only, so one tube at a time bears it: that tube as many times more rarely as there are
 * tubes, so the tool has it as often and loses as many wafers. A loader that stands costs
 * the tubes half of that time, as a loaded boat waits before many of them.
 */
export function loaderFault(
  tubes: number,
  stop: string,
  every: Hours,
  lasts: Minutes,
  cv: number,
  more: More,
): Stop {
  return fault(stop, `${parsed(every, tubes)} h`, `${parsed(lasts, tubes / 2)} min`, cv, more)
}

/**
 * Planned work by the calendar. All clocks start with the run, so work at even intervals
 * would take all tools down at once: intervals up to a week are drawn evenly within a
 * quarter to either side. Longer ones are exponential, so that a run of any length
 * has them at the right rate from its first day.
 */
export function planned(stop: string, every: Hours, lasts: Minutes): Stop {
  return { stop, counts: 'calendar time', every: spreadOf(every), lasts, kind: 'scheduled', from: INVENTED }
}

function spreadOf(every: Hours): Spread<Time> {
  if (Number.parseFloat(every) > 168) return { exponential: every }
  return { uniform: [`${parsed(every, 0.75)} h`, `${parsed(every, 1.25)} h`] as [Time, Time] }
}

/** Planned work after a number of wafers (prints, tests) or loads. It can wait for up to `wait` more. */
export function plannedAfter(
  stop: string,
  count: number,
  counts: 'wafers' | 'loads',
  lasts: Minutes,
  wait: number,
): Stop {
  const every = { uniform: [count, count + wait] } as const
  return { stop, counts, every, lasts, kind: 'scheduled', from: INVENTED }
}

/** Planned work after so many wafers or loads that a run has it a few times at most: see `planned`. */
export function plannedRarely(stop: string, count: number, counts: 'wafers' | 'loads', lasts: Minutes): Stop {
  return { stop, counts, every: { geometric: count }, lasts, kind: 'scheduled', from: INVENTED }
}

/** The figure of a quantity times a factor, without the dust of rounding. */
function parsed(quantity: string, factor: number): number {
  return Number((Number.parseFloat(quantity) * factor).toPrecision(6))
}
