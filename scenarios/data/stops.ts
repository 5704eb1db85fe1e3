import type { Batch, Boats, Carriers, Spread, Stop, Time } from 'linewright'

/** Ways to write down the stops of the demo line, which are many and of few kinds. */

export const INVENTED = 'invented'
export const COMMON_PRACTICE = 'common practice, no source'

type Hours = `${number} h`
type Minutes = `${number} min`
/** What a stop may say besides: its clock, what becomes of the wafers inside, who comes first, its source. */
type More = Pick<Stop, 'counts' | 'inside' | 'priority' | 'from'>

/**
 * An unscheduled stop: exponential time between two, lognormal length with its coefficient
 * of variation, which is that of the repair: the wait for `skill` comes on top.
 */
export function fault(
  stop: string,
  every: Hours,
  lasts: Minutes,
  cv: number,
  skill: string,
  more: More = {},
): Stop {
  return { ...unattended(stop, every, lasts, cv, more), skill }
}

function unattended(stop: string, every: Hours, lasts: Minutes, cv: number, more: More): Stop {
  return { stop, every: { exponential: every }, lasts: { lognormal: lasts, cv }, from: INVENTED, ...more }
}

/**
 * A stop of one lane of a tool whose lanes are one belt here: all lanes together have
 * it as many times as often, and each time the belt stands for the share of one lane.
 * Nobody is called: the way of a person would count for all lanes instead of for one.
 */
export function laneFault(
  lanes: number,
  stop: string,
  every: Hours,
  lasts: Minutes,
  cv: number,
  more: More = {},
): Stop {
  return unattended(stop, `${parsed(every, 1 / lanes)} h`, `${parsed(lasts, 1 / lanes)} min`, cv, more)
}

/**
 * A stop of the loader that serves the tubes of a tool. The language has stops of tubes
 * only, so one tube at a time bears it: that tube as many times more rarely as there are
 * tubes, so the tool has it as often and loses as many wafers. A loader that stands costs
 * the tubes half of that time, as a loaded boat waits before many of them. Nobody is
 * called, as the people would be held for longer than the loader stands.
 */
export function loaderFault(
  tubes: number,
  stop: string,
  every: Hours,
  lasts: Minutes,
  cv: number,
  more: More,
): Stop {
  return unattended(stop, `${parsed(every, tubes)} h`, `${parsed(lasts, tubes / 2)} min`, cv, more)
}

/**
 * Planned work by the calendar. All clocks start with the run, so work at even intervals
 * would take all tools down at once: its first time is spread over the interval, tool by
 * tool and lane by lane. Intervals of more than three days are exponential, so that a run
 * of any length has them at the right rate from its first day; it sees few of them.
 */
export function planned(stop: string, every: Hours, lasts: Minutes, skill: string): Stop {
  return {
    stop,
    counts: 'calendar time',
    ...due(every),
    lasts,
    kind: 'scheduled',
    skill,
    from: INVENTED,
  }
}

/** Planned work on a tube: what has been started there is finished first. */
export function plannedBetweenLoads(stop: string, every: Hours, lasts: Minutes, skill: string): Stop {
  return { ...planned(stop, every, lasts, skill), waits: { until: 'load ends', atMost: '3 h' } }
}

function due(every: Hours): Pick<Stop, 'every' | 'first'> {
  if (Number.parseFloat(every) > 72) return { every: { exponential: every } }
  return { every, first: { from: '0 h', to: every } }
}

/** Planned work after so many wafers or loads that a run has it a few times at most: at its true rate, as `planned` has it. */
export function plannedRarely(
  stop: string,
  count: number,
  counts: 'wafers' | 'loads',
  lasts: Minutes,
  skill: string,
): Stop {
  return { stop, counts, every: { geometric: count }, lasts, kind: 'scheduled', skill, from: INVENTED }
}

/** What a change of consumables may wait for: a moment in which the tool has no wafer. */
export function untilStarved(atMost: Time): Pick<Stop, 'waits'> {
  return { waits: { until: 'starved', atMost } }
}

/** Boats of a furnace. They are cleaned beside the line, with spare ones in their place. */
export function boats(perTool: number, cooling: Minutes): Boats {
  return { perTool, cooling, from: INVENTED }
}

/**
 * What becomes of cassettes: of 1000 fillings one in two ends with one that must be repaired or
 * scrapped, until another is there a day later; now and then each is washed. Invented.
 */
export const cassetteWear = {
  cleaning: { every: 200, lasts: '4 h' },
  breakage: { share: '500 ppm', replacedAfter: '24 h' },
} as const satisfies Pick<Carriers, 'cleaning' | 'breakage'>

/**
 * A tube that must be full: wafers that no full load has come for in time start with dummy wafers in
 * the places left. How many there must be, how long they wait and how long a dummy lasts is invented.
 */
export function filledUp(
  least: number,
  longestWait: Minutes,
): Pick<Batch, 'least' | 'longestWait' | 'dummies'> {
  return { least, longestWait, dummies: { runs: 50, from: INVENTED } }
}

/** What is due after a number of pieces comes up to a twentieth earlier or later. Invented. */
export function about(count: number): Spread<number> {
  return { uniform: [0.95 * count, 1.05 * count] }
}

/** The figure of a quantity times a factor, without the dust of rounding. */
function parsed(quantity: string, factor: number): number {
  return Number((Number.parseFloat(quantity) * factor).toPrecision(6))
}
