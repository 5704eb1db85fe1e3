import { isPlainObject } from '../base/plain.ts'
import { DAYS, parseClock, parseDayTime } from './clock.ts'
import { fate } from './schema-fate.ts'
import {
  choose,
  keyed,
  leaf,
  listOf,
  name,
  namedMap,
  oneWord,
  type ShapeOf,
  text,
  whole,
} from './schema-parts.ts'
import { interval, lastingTime } from './schema-spread.ts'
import { anyTime, MOST_HELPERS, share, someTime } from './schema-values.ts'
import type { Break, Calendar, Crew, Fleet, Shift, SiteEvent } from './types.ts'

/** The calendar, the people and vehicles, and what strikes the whole site. */

const dayTime = clockLeaf('a time of day such as "06:00"', parseDayTime)
export const clockTime = clockLeaf('a time by the clock such as "06:00" or "Mon 06:00"', parseClock)

function clockLeaf(expected: string, parse: (text: string) => unknown): ReturnType<typeof leaf> {
  return leaf(value => {
    if (typeof value !== 'string') return { expected }
    const read = parse(value)
    if (typeof read === 'string') return { expected, ...(read === '' ? {} : { hint: read }) }
  })
}

const breakShape = {
  at: dayTime,
  lasts: someTime,
  relief: share.optional(),
} satisfies ShapeOf<Break>

const shiftShape = {
  from: dayTime,
  to: dayTime,
  days: listOf('a list of days such as ["Mon", "Tue"]', oneWord(...DAYS)).optional(),
  breaks: listOf(
    'a list of breaks',
    keyed('a break such as { at: "10:00", lasts: "30 min" }', breakShape),
  ).optional(),
} satisfies ShapeOf<Shift>
const shift = keyed('a shift such as { from: "06:00", to: "14:00" }', shiftShape)

const calendarShape = {
  shifts: namedMap('an object with a shift for each name', shift),
  runDown: anyTime.optional(),
  from: text.optional(),
} satisfies ShapeOf<Calendar>
export const calendar = keyed(
  'an object such as { shifts: { day: { from: "06:00", to: "18:00" } } }',
  calendarShape,
)

const someHeads = whole(0, MOST_HELPERS)
const headsByShift = namedMap('an object with a number for each shift', someHeads)
const reach = lastingTime.optional()

const crewShape = {
  heads: choose(value => (isPlainObject(value) ? headsByShift : someHeads)),
  skills: listOf('a list of skills', name).optional(),
  reach,
  from: text.optional(),
} satisfies ShapeOf<Crew>
export const crews = namedMap(
  'an object with a crew for each name, such as { operators: { heads: 3 } }',
  keyed('a crew such as { heads: 3, reach: "1 min" }', crewShape),
)

const fleetShape = {
  number: whole(1, MOST_HELPERS),
  reach,
  from: text.optional(),
} satisfies ShapeOf<Fleet>
export const fleets = namedMap(
  'an object with a fleet for each name, such as { vehicles: { number: 4 } }',
  keyed('a fleet such as { number: 4 }', fleetShape),
)

const eventShape = {
  event: name,
  every: interval,
  lasts: lastingTime,
  steps: listOf('a list of names of steps', name).optional(),
  inside: fate.optional(),
  kind: oneWord('unscheduled', 'scheduled').optional(),
  from: text.optional(),
} satisfies ShapeOf<SiteEvent>
export const events = listOf(
  'a list of events',
  keyed('an event such as { event: "power dip", every: { exponential: "120 d" }, lasts: "1 h" }', eventShape),
)

/** What a variant may change of a crew, of a fleet and of an event. */
export const CREW_FIELDS: readonly string[] = Object.keys(crewShape)
export const FLEET_FIELDS: readonly string[] = Object.keys(fleetShape)
export const EVENT_FIELDS: readonly string[] = Object.keys(eventShape).slice(1)
