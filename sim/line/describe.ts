import { isPlainObject } from '../base/plain.ts'
import { stableText } from './canonical.ts'
import { allItems, nameOfItem } from './items.ts'
import { observedMean } from './observed.ts'
import type { Item, Line, Stop } from './types.ts'

type Fields = Readonly<Record<string, unknown>>

/** What holds where a key is not given, where that is a value and not the absence of the thing. */
const DEFAULTS: Fields = {
  tools: 1,
  tubes: 1,
  lanes: 1,
  order: 'first in, first out',
  split: 'least full',
  whenFull: 'run out',
  counts: 'running time',
  kind: 'unscheduled',
  then: 'reject',
  feed: 'as fast as taken',
  people: 1,
  priority: 0,
  loaderServes: 'longest waiting',
  perOutput: 2,
}

/** Keys that change no figure, or whose items tell of themselves. */
const UNTOLD = ['from', 'notes', 'each']

/**
 * What makes one line another, in words, one change each: `front print: tools 3 -> 4`.
 * Variants are left out.
 */
export function describeChanges(before: Line, after: Line): string[] {
  const {
    route: oldRoute,
    variants: _old,
    crews: oldCrews,
    fleets: oldFleets,
    events: oldEvents,
    ...old
  } = before
  const { route: newRoute, variants: _new, crews, fleets, events, ...fresh } = after
  const oldItems = byKey(allItems(oldRoute), nameOfItem)
  const newItems = byKey(allItems(newRoute), nameOfItem)
  const names = new Set([...oldItems.keys(), ...newItems.keys()])
  const changes = [...names].flatMap(name => {
    const [was, is] = [oldItems.get(name), newItems.get(name)]
    return was && is ? changesOfItem(was, is) : [`${name}: ${was ? 'taken away' : 'added'}`]
  })
  return [
    ...changesOfKeys(old, fresh).map(change => `line: ${change}`),
    ...changesOfNames(oldCrews, crews),
    ...changesOfNames(oldFleets, fleets),
    ...changesOfNames(byName(oldEvents), byName(events)),
    ...changes,
  ]
}

function byName(events: Line['events'] = []): Fields {
  return Object.fromEntries(events.map(event => [event.event, event]))
}

/** Crews, fleets and events, each told of like an item: `operators: heads 3 -> 4`. */
function changesOfNames(before: Fields = {}, after: Fields = {}): string[] {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap(name => {
    const [was, is] = [before[name], after[name]]
    if (!isPlainObject(was) || !isPlainObject(is)) return [`${name}: ${was ? 'taken away' : 'added'}`]
    return changesOfKeys(was, is).map(change => `${name}: ${change}`)
  })
}

function byKey<T>(things: readonly T[], key: (thing: T) => string): ReadonlyMap<string, T> {
  return new Map(things.map(thing => [key(thing), thing]))
}

function changesOfItem(before: Item, after: Item): string[] {
  const [{ stops: oldStops, ...old }, { stops: newStops, ...fresh }] = [fieldsOf(before), fieldsOf(after)]
  const changes = [...changesOfKeys(old, fresh), ...changesOfStops(oldStops, newStops)]
  return changes.map(change => `${nameOfItem(before)}: ${change}`)
}

/** Routes within a group tell of their own items: the group itself has only the names of its lanes. */
function fieldsOf(item: Item): Fields {
  return 'group' in item && isPlainObject(item.lanes)
    ? { ...item, lanes: Object.keys(item.lanes) }
    : { ...item }
}

function changesOfStops(before: unknown, after: unknown): string[] {
  const oldStops = byKey((before ?? []) as readonly Stop[], ({ stop }) => stop)
  const newStops = byKey((after ?? []) as readonly Stop[], ({ stop }) => stop)
  return [...new Set([...oldStops.keys(), ...newStops.keys()])].flatMap(name => {
    const [was, is] = [oldStops.get(name), newStops.get(name)]
    if (!was || !is) return [`stop ${name} ${was ? 'taken away' : 'added'}`]
    return changesOfKeys({ ...was }, { ...is }).map(change => `stop ${name} ${change}`)
  })
}

function changesOfKeys(before: Fields, after: Fields): string[] {
  const keys = new Set([...Object.keys(before), ...Object.keys(after)])
  return [...keys]
    .filter(key => !UNTOLD.includes(key))
    .flatMap(key => changesOfValue(key, before[key], after[key]))
}

function changesOfValue(key: string, was: unknown, is: unknown): string[] {
  const [before, after] = [was ?? DEFAULTS[key], is ?? DEFAULTS[key]]
  if (stableText(before) === stableText(after)) return []
  if (
    isPlainObject(before) &&
    isPlainObject(after) &&
    Object.keys(before).some(shared => Object.hasOwn(after, shared))
  )
    return changesOfKeys(before, after).map(change => `${key} ${change}`)
  return [`${key} ${partText(key, before)} -> ${partText(key, after)}`]
}

/** Of a whole log of stops its mean says more than its values. */
function partText(key: string, value: unknown): string {
  const log = key === 'observed' ? observedMean(value) : undefined
  return log ? `mean ${log.mean} (${log.count} values)` : valueText(value)
}

/** A value in words: `exponential 3 h`, `[2, 5]`. */
function valueText(value: unknown): string {
  if (value === undefined) return 'none'
  if (Array.isArray(value)) return `[${value.map(valueText).join(', ')}]`
  if (!isPlainObject(value)) return String(value)
  return Object.entries(value)
    .filter(([key]) => !UNTOLD.includes(key))
    .map(([key, part]) => `${key} ${partText(key, part)}`)
    .join(', ')
}
