import type * as z from 'zod'
import { isPlainObject } from '../base/plain.ts'
import { quantityWanted } from '../base/quantity.ts'
import { fate, lost } from './schema-fate.ts'
import { choose, keyed, leaf, listOf, name, oneWord, type ShapeOf, text, whole } from './schema-parts.ts'
import { clockTime } from './schema-people.ts'
import { countSpread, interval, lastingTime } from './schema-spread.ts'
import { anyTime, MOST_HELPERS, share, someTime } from './schema-values.ts'
import type { FirstSpan, Stop } from './types.ts'

const waitsShape = {
  until: oneWord('starved', 'load ends', 'shift change', 'people come'),
  atMost: anyTime,
} satisfies ShapeOf<NonNullable<Stop['waits']>>

const COUNTS = ['running time', 'calendar time', 'wafers', 'loads'] as const
type Counts = (typeof COUNTS)[number]

const EVERY = {
  'running time': interval,
  'calendar time': interval,
  wafers: countSpread('wafers'),
  loads: countSpread('loads'),
  // What the stop counts could not be read, so nothing can be said of how many.
  unread: leaf(() => undefined),
}

const firstOfEach = listOf('a list of times, one for each tool', anyTime)
const firstSpan = keyed('a span such as { from: "0 h", to: "12 h" }', {
  from: anyTime,
  to: anyTime,
} satisfies ShapeOf<FirstSpan>)

/** At random, a time, one for each tool, or a span over which they are spread. */
const first = choose(value => {
  if (typeof value === 'string' && /^[a-z]/i.test(value)) return oneWord('at random')
  return Array.isArray(value) ? firstOfEach : isPlainObject(value) ? firstSpan : anyTime
})

export function stopShape(every: Counts | 'unread') {
  return {
    stop: name,
    counts: oneWord(...COUNTS).optional(),
    every: EVERY[every].optional(),
    at: listOf('a list of times by the clock such as ["06:00", "Wed 14:00"]', clockTime).optional(),
    afterIdle: someTime.optional(),
    first: first.optional(),
    lasts: lastingTime,
    inside: fate.optional(),
    setUpWafers: lost.optional(),
    renews: listOf('a list of names of stops of this step', name).optional(),
    kind: oneWord('unscheduled', 'scheduled', 'supply').optional(),
    skill: name.optional(),
    people: whole(1, MOST_HELPERS).optional(),
    priority: whole(-1000, 1000).optional(),
    waits: keyed('an object such as { until: "starved", atMost: "2 h" }', waitsShape).optional(),
    overdue: share.optional(),
    from: text.optional(),
  } satisfies ShapeOf<Stop>
}

const STOP = 'a stop such as { stop: "jam", every: "2 h", lasts: "5 min" }'
const withoutEvery = keyed(STOP, { ...stopShape('calendar time') })
const countsUnread = keyed(STOP, stopShape('unread'))
const noUnit = keyed(STOP, {
  ...stopShape('running time'),
  every: leaf(() => ({
    expected: quantityWanted('time'),
    hint: 'its unit is missing; for a number of wafers or loads say what it counts, as in counts: "wafers"',
  })),
})
const counting = new Map<unknown, z.ZodType>(
  COUNTS.map(counts => [counts, keyed(STOP, { ...stopShape(counts), every: EVERY[counts] })]),
)

/** What `every` may be depends on what the stop counts; a stop by the clock, or after idleness, is without it. */
export const stop = choose(value => {
  if (!isPlainObject(value)) return { expected: STOP }
  const without = value.at !== undefined || value.afterIdle !== undefined
  if (without && (value.counts === undefined || value.every === undefined)) return withoutEvery
  if (value.counts === undefined && typeof value.every === 'number') return noUnit
  return counting.get(value.counts ?? 'running time') ?? countsUnread
})
