import type * as z from 'zod'
import { isPlainObject } from '../base/plain.ts'
import { quoted } from '../base/problems.ts'
import { bins } from './schema-bins.ts'
import { moneySchema, sizingSchema } from './schema-money.ts'
import { broken, carrierCleaning } from './schema-more.ts'
import {
  choose,
  judgeName,
  keyed,
  leaf,
  listOf,
  measured,
  name,
  number,
  oneWord,
  quantityGauge,
  type ShapeOf,
  text,
  whole,
} from './schema-parts.ts'
import { calendar, crews, events, fleets } from './schema-people.ts'
import { countSpread, interval, lastingTime } from './schema-spread.ts'
import { stepShape } from './schema-step.ts'
import { stopShape } from './schema-stop.ts'
import { anyTime, MOST_CARRIERS, MOST_HELPERS, MOST_WAFERS, share, someTime } from './schema-values.ts'
import type {
  Buffer,
  Cap,
  Carriers,
  Conveyor,
  Group,
  IngotLot,
  Line,
  RunDefaults,
  WaferKind,
} from './types.ts'

/**
 * The form of everything a person may write in a scenario, item by item. The items of
 * a route are not nested in one another here: outline.ts walks the route and takes
 * the schema of each item, so that one bad item does not hide the others.
 */

export const ROUTE = 'a list of steps, buffers, conveyors, carriers and groups'

export type ItemKind = 'step' | 'buffer' | 'conveyor' | 'carriers' | 'group'
export const ITEM_KINDS: readonly ItemKind[] = ['step', 'buffer', 'conveyor', 'carriers', 'group']

const anything = leaf(() => undefined)
const rate = measured(quantityGauge('rate'), { least: 0.001 / 3600, most: 1e6 })

const lotShape = { wafers: whole(1, MOST_WAFERS), sd: share } satisfies ShapeOf<IngotLot>

const efficiencyShape = {
  mean: share,
  sd: share.optional(),
  lot: keyed('an object such as { wafers: 5000, sd: "0.1 %" }', lotShape).optional(),
  from: text.optional(),
} satisfies ShapeOf<WaferKind['efficiency']>

const waferShape = {
  area: measured(quantityGauge('area'), { least: 1e-6, most: 1 }),
  efficiency: keyed('an object such as { mean: "23.1 %", sd: "0.15 %" }', efficiencyShape),
  from: text.optional(),
} satisfies ShapeOf<WaferKind>

const feedShape = {
  every: interval.optional(),
  rate: rate.optional(),
  carrier: countSpread('wafers').optional(),
  whenFull: oneWord('wait', 'turn away').optional(),
  wafers: whole(1, 1e12).optional(),
  from: text.optional(),
} satisfies ShapeOf<Exclude<NonNullable<Line['feed']>, string>>

const FEED = '"as fast as taken" or an object such as { rate: "3600 wafers/h" }'
const feedObject = keyed(FEED, feedShape)
const feedWord = leaf(value => (value === 'as fast as taken' ? undefined : { expected: FEED }))

const runShape = {
  days: number(0.001, 36_500).optional(),
  replications: whole(1, 10_000).optional(),
  seed: text.optional(),
} satisfies ShapeOf<RunDefaults>

const capShape = {
  wafers: whole(1, MOST_WAFERS),
  until: name.optional(),
  from: text.optional(),
} satisfies ShapeOf<Cap>

const lineShape = {
  line: name,
  notes: listOf('a list of texts', text).optional(),
  from: text.optional(),
  wafer: keyed('an object with area and efficiency', waferShape).optional(),
  target: rate.optional(),
  feed: choose(value => (isPlainObject(value) ? feedObject : feedWord)).optional(),
  calendar: calendar.optional(),
  crews: crews.optional(),
  fleets: fleets.optional(),
  events: events.optional(),
  cap: keyed('an object such as { wafers: 50000 }', capShape).optional(),
  route: leaf(value => (value === undefined ? { expected: ROUTE } : undefined)),
  bins: bins.optional(),
  run: keyed('an object such as { days: 30, replications: 10 }', runShape).optional(),
  money: moneySchema.optional(),
  sizing: sizingSchema.optional(),
  // Each variant is tried out on the line (see check-variants.ts).
  variants: anything.optional(),
} satisfies ShapeOf<Line>

/** The line without its route and its variants, which are only asked to be there. */
export const lineSchema = keyed('an object with the keys line and route', lineShape)

const capacity = leaf(value => {
  if (
    value === 'unlimited' ||
    (Number.isInteger(value) && (value as number) >= 0 && (value as number) <= MOST_WAFERS)
  )
    return
  return { expected: `a whole number from 0 to ${MOST_WAFERS}, or "unlimited"` }
})

const bufferShape = {
  buffer: name,
  capacity,
  order: oneWord('first in, first out', 'last in, first out').optional(),
  leastDwell: anyTime.optional(),
  from: text.optional(),
} satisfies ShapeOf<Buffer>

const conveyorShape = {
  conveyor: name,
  transit: someTime,
  capacity: whole(1, MOST_WAFERS),
  from: text.optional(),
} satisfies ShapeOf<Conveyor>

const movedShape = {
  takes: lastingTime,
  by: name.optional(),
  perTrip: whole(1, MOST_HELPERS).optional(),
  returns: anyTime.optional(),
  priority: whole(-1000, 1000).optional(),
} satisfies ShapeOf<Carriers['moved']>

const carriersShape = {
  carriers: name,
  holds: whole(1, MOST_WAFERS),
  number: whole(1, MOST_CARRIERS),
  fullAtMost: whole(1, MOST_CARRIERS).optional(),
  longestWait: anyTime.optional(),
  moved: keyed('an object such as { takes: "2 min", by: "operators" }', movedShape),
  back: anyTime.optional(),
  cleaning: carrierCleaning.optional(),
  breakage: broken.optional(),
  from: text.optional(),
} satisfies ShapeOf<Carriers>

const laneNames = listOf('a list of lane names, or an object with a route for each name', name)
/** Only the names are judged here: outline.ts walks the routes. */
const laneRoutes = leaf(value => {
  for (const lane of Object.keys(value as object)) {
    const fault = judgeName(lane)
    if (fault) return { expected: `each lane called by ${fault.expected}`, found: quoted(lane) }
  }
})

const groupShape = {
  group: name,
  split: oneWord('least full', 'in turn').optional(),
  lanes: choose(value => (isPlainObject(value) ? laneRoutes : laneNames)),
  each: anything.optional(),
  from: text.optional(),
} satisfies ShapeOf<Group>

export const ITEM_SCHEMAS: Readonly<Record<ItemKind, z.ZodType>> = {
  step: keyed('a step', stepShape),
  buffer: keyed('a buffer', bufferShape),
  conveyor: keyed('a conveyor', conveyorShape),
  carriers: keyed('carriers', carriersShape),
  group: keyed('a group', groupShape),
}

/** What a variant may change of each kind of item: all but its name. */
export const ITEM_FIELDS: Readonly<Record<ItemKind, readonly string[]>> = {
  step: fieldsOf(stepShape),
  buffer: fieldsOf(bufferShape),
  conveyor: fieldsOf(conveyorShape),
  carriers: fieldsOf(carriersShape),
  group: fieldsOf(groupShape),
}

function fieldsOf(shape: Readonly<Record<string, unknown>>): readonly string[] {
  return Object.keys(shape).slice(1)
}

/** What a variant may change of a stop. */
export const STOP_FIELDS = fieldsOf(stopShape('running time'))
