import { closedSpans } from '../../line/calendar.ts'
import { buffersBeforeSteps } from '../../line/first-stores.ts'
import { allItems, laneRoutes } from '../../line/items.ts'
import { outlineOf } from '../../line/outline.ts'
import { resolvedLine } from '../../line/recipes.ts'
import type { Carriers, Group, Line, Route } from '../../line/types.ts'
import { applyChanges } from '../../line/vary.ts'
import { buffersOf, stepsOf, withCapacity } from '../designs/changes.ts'
import { alwaysOpen } from './always-open.ts'
import type { Cause } from './cause.ts'

/** Heads, vehicles and carriers that nobody ever waits for. */
const MANY = 1000
/** Places that nobody ever waits for, where a number must be given. */
const AMPLE = 100_000

/**
 * What holds a line besides its tools: the feed, buffers with an end (through which tools
 * starve and block each other), carriers and vehicles, boats, caps, waits for people, the
 * calendar, events of the site. Each that the line has.
 */
export function limitsOf(line: Line): Cause[] {
  const causes: (Cause & { readonly there: boolean })[] = [
    {
      ...{ name: 'waiting for the feed', kind: 'feed', there: isPaced(line) },
      without: withFeedAtOnce,
    },
    {
      ...{ name: 'buffers that run full or empty', kind: 'buffers', there: freeBuffers(line).length > 0 },
      without: withAmpleBuffers,
    },
    {
      ...{ name: carriersName(line), kind: 'carriers', there: carriersOf(line).length > 0 },
      without: withManyCarriers,
    },
    {
      ...{ name: 'waiting for boats', kind: 'boats', there: batchesWith(line, 'boats').length > 0 },
      without: made => withoutPart(made, 'boats'),
    },
    {
      ...{ name: 'caps on wafers', kind: 'caps' },
      there: line.cap !== undefined || batchesWith(line, 'cap').length > 0,
      without: ({ cap: _gone, ...rest }) => withoutPart(rest, 'cap'),
    },
    {
      ...{ name: 'waiting for free people', kind: 'people', there: Object.keys(line.crews ?? {}).length > 0 },
      without: withEverybodyThere,
    },
    {
      ...{ name: 'hours outside the shifts', kind: 'calendar', there: closedSpans(line.calendar).length > 0 },
      without: alwaysOpen,
    },
    {
      ...{ name: 'events of the site', kind: 'events', there: (line.events ?? []).length > 0 },
      without: ({ events: _gone, ...rest }) => rest,
    },
  ]
  return causes.filter(({ there }) => there).map(({ there: _there, ...cause }) => cause)
}

// ---- the feed and the buffers --------------------------------------------------

function isPaced({ feed }: Line): boolean {
  return feed !== undefined && feed !== 'as fast as taken'
}

/** Wafers are always there. What they come to before a step must have an end then. */
function withFeedAtOnce({ feed: _gone, ...rest }: Line): Line {
  return buffersBeforeSteps(outlineOf(rest.route)).reduce<Line>(
    (made, { item }) =>
      item && 'buffer' in item && item.capacity === 'unlimited'
        ? withCapacity(made, item.buffer, AMPLE)
        : made,
    rest,
  )
}

/**
 * Buffers whose size may hold tools up. Not those that a feed without a pace keeps full, nor
 * the first ones of lanes that take turns: how full they are steers the split.
 */
function freeBuffers(line: Line) {
  const fed = isPaced(line) ? [] : buffersBeforeSteps(outlineOf(line.route)).map(({ name }) => name)
  const steering = firstBuffers(line.route, 'in turn')
  return buffersOf(line).filter(({ buffer }) => !fed.includes(buffer) && !steering.includes(buffer))
}

/** The least full of several lanes is none where buffers have no end: they get an ample one. */
function withAmpleBuffers(line: Line): Line {
  const compared = firstBuffers(line.route, 'least full')
  return freeBuffers(line).reduce(
    (made, { buffer, capacity }) =>
      withCapacity(made, buffer, compared.includes(buffer) ? Math.max(AMPLE, capacity) : 'unlimited'),
    line,
  )
}

/** Names of the buffers with which lanes begin that split by this rule. A group that begins a lane splits for it. */
function firstBuffers(route: Route, split: NonNullable<Group['split']>): string[] {
  const groups = allItems(route).filter((item): item is Group => 'group' in item)
  return groups
    .filter(group => (group.split ?? 'least full') === split)
    .flatMap(group =>
      laneRoutes(group).flatMap(({ route: [first] }) => ('buffer' in first ? [first.buffer] : [])),
    )
}

// ---- carriers, boats, people ---------------------------------------------------

function carriersOf({ route }: Line): Carriers[] {
  return allItems(route).filter((item): item is Carriers => 'carriers' in item)
}

function carriersName({ fleets = {} }: Line): string {
  return Object.keys(fleets).length > 0 ? 'waiting for carriers and vehicles' : 'waiting for carriers'
}

function withManyCarriers(line: Line): Line {
  const many = carriersOf(line).map(({ carriers, number }) => [carriers, { number: number + MANY }])
  const { fleets, ...rest } = applyChanges(line, Object.fromEntries(many))
  if (fleets === undefined) return rest
  const larger = Object.entries(fleets).map(([name, fleet]) => [name, { ...fleet, number: MANY }])
  return { ...rest, fleets: Object.fromEntries(larger) }
}

/** Batch steps that have it as they run, by their recipes where they pick one. */
function batchesWith(line: Line, part: 'boats' | 'cap') {
  return stepsOf(resolvedLine(line)).filter(({ batch }) => batch?.[part] !== undefined)
}

function withoutPart(line: Line, part: 'boats' | 'cap'): Line {
  const changes = batchesWith(line, part).map(({ step }) => [step, { batch: { [part]: null } }])
  return applyChanges(resolvedLine(line), Object.fromEntries(changes))
}

/** More people than are ever asked for, at all hours: in breaks and in shifts without a crew too. */
function withEverybodyThere(line: Line): Line {
  const { crews = {}, calendar } = line
  const many = Object.entries(crews).map(([name, crew]) => [name, { ...crew, heads: MANY }])
  const shifts = Object.entries(calendar?.shifts ?? {}).map(([name, { breaks: _none, ...shift }]) => [
    name,
    shift,
  ])
  return {
    ...line,
    crews: Object.fromEntries(many),
    ...(calendar && { calendar: { ...calendar, shifts: Object.fromEntries(shifts) } }),
  }
}
