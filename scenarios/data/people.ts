import type { Calendar, Crew, Fleet, SiteEvent, Spread, Time } from 'linewright'
import { INVENTED } from './stops.ts'

/** Crews by name; each has the skill of its name. */
export const FRONT = 'operators front end'
export const BACK = 'operators back end'
export const TEST = 'operators test and pack'
export const HANDLERS = 'material handlers'
export const MECHATRONICS = 'mechatronics'
export const FURNACE = 'vacuum and furnace'
export const WET = 'wet chemistry'
export const PROCESS = 'process technicians'

/**
 * Four crews in a pattern of 2-2-3 days, so that each day and each night has exactly one of
 * them: two shifts of 12 h, all alike. Tools work on in the breaks, half of the people stay
 * (of one, nobody). The hand-over of 15 min at 06:00 and 18:00 keeps nobody from a call.
 * The hall stands still for 72 h a year, which `hoursPerYear` in the money leaves out.
 */
export const calendar: Calendar = {
  shifts: {
    day: { from: '06:00', to: '18:00', breaks: [breakAt('10:00'), breakAt('14:00')] },
    night: { from: '18:00', to: '06:00', breaks: [breakAt('22:00'), breakAt('02:00')] },
  },
  from: 'pattern of shifts: trade practice from memory; the rest invented',
}

function breakAt(at: `${number}:${number}`) {
  return { at, lasts: '30 min', relief: '50 %' } as const
}

/**
 * People of a shift, by day and by night, and the time from the call until they stand at the
 * tool. The shift lead and the twelve of the day (engineers, quality, planner) serve no stops.
 */
export const crews: Readonly<Record<string, Crew>> = {
  [FRONT]: crew(3, { exponential: '0.7 min' }),
  [BACK]: crew(4, { exponential: '0.7 min' }),
  [TEST]: crew(3, { exponential: '0.7 min' }),
  // Push the trolleys from the wet benches to the diffusion.
  [HANDLERS]: crew(2, '0 s'),
  [MECHATRONICS]: crew(2, { exponential: '8 min' }),
  [FURNACE]: crew(2, { exponential: '8 min' }),
  [WET]: crew(1, { exponential: '8 min' }),
  [PROCESS]: crew(1, { exponential: '10 min' }),
}

function crew(heads: number, reach: Spread<Time>): Crew {
  return { heads, reach, from: INVENTED }
}

/** Wages per head and hour, the same for all operators and for all technicians. */
export const wages: Readonly<Record<string, number>> = {
  [FRONT]: 15,
  [BACK]: 15,
  [TEST]: 15,
  [HANDLERS]: 15,
  [MECHATRONICS]: 22,
  [FURNACE]: 22,
  [WET]: 22,
  [PROCESS]: 22,
}

/** Vehicles that carry dry cassettes, eight a trip. */
export const VEHICLES = 'vehicles'
export const fleets: Readonly<Record<string, Fleet>> = { [VEHICLES]: { number: 6, from: INVENTED } }

/** A trip between two areas: 2, 4 or at most 8 min. */
export const TRIP: Spread<Time> = { triangular: ['2 min', '4 min', '8 min'] }

const WET_AND_GAS = [
  'texture',
  'diffusion',
  'glass etch',
  'oxidation',
  'rear alumina',
  'rear nitride',
  'front nitride',
]

/**
 * What strikes the whole site. A run of a few days seldom sees one: the time between them is
 * exponential, so that runs of any length have them at the right rate.
 */
export const events: readonly SiteEvent[] = [
  {
    // An event lasts equally long everywhere: the front end would need 60 min, the print lines,
    // which hold the line, 45 min. The wafers in the hot zones of the furnaces are saved here.
    event: 'power dip',
    every: { exponential: '120 d' },
    lasts: '45 min',
    from: INVENTED,
  },
  {
    event: 'water or exhaust trip',
    every: { exponential: '60 d' },
    lasts: { lognormal: '40 min', cv: 0.8 },
    steps: WET_AND_GAS,
    from: INVENTED,
  },
  {
    event: 'gas alarm, hall cleared',
    every: { exponential: '180 d' },
    lasts: { lognormal: '60 min', cv: 0.7 },
    from: INVENTED,
  },
]
