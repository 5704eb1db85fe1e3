import { isPlainObject } from '../base/plain.ts'
import { describeChanges } from './describe.ts'
import { allItems, nameOfItem, namesOfStops } from './items.ts'
import type { Group, Item, Line, Route, Variant } from './types.ts'

type Fields = Readonly<Record<string, unknown>>

/** Parts of an item that a variant changes key by key, as it does the item itself; and their own such parts. */
const PARTS: Parts = { belt: {}, batch: { boats: {}, cap: {} }, moved: {} }
/** The same of the line itself. */
const LINE_PARTS: Parts = { bins: { boxes: { swap: {} } } }
interface Parts {
  readonly [key: string]: Parts
}

/** Parts of the line whose entries a variant changes by their names. */
const BY_NAME = ['crews', 'fleets'] as const

/**
 * The line with one of its variants applied, without the variants.
 *
 * What a variant says of an item replaces what the item says, key by key; so it does
 * within `belt`, `batch` with its `boats` and `cap`, `moved`, and `bins` and its `boxes`, and within the
 * stops, crews, fleets and events that it names. `null` takes a key, or one of these, away.
 *
 * @throws Error when the line has no such variant
 */
export function applyVariant(line: Line, name: string): Line {
  const { variants = {}, ...base } = line
  if (!Object.hasOwn(variants, name)) throw new Error(`the line has no variant "${name}"`)
  return withoutForeignParts(applyChanges(base, variants[name]))
}

/** A line without the parts of stops that other variants have, or that this one has taken away. */
function withoutForeignParts(line: Line): Line {
  const { money, route } = line
  // Whatever a variant may say of money, its form is judged later.
  if (!isPlainObject(money?.stops)) return line
  const items = new Map(allItems(route).map(item => [nameOfItem(item), item]))
  const stops = Object.entries(money.stops).map(([step, costs]) => {
    if (!isPlainObject(costs)) return [step, costs]
    const known = namesOfStops(items.get(step))
    return [step, Object.fromEntries(Object.entries(costs).filter(([stop]) => known.includes(stop)))]
  })
  return { ...line, money: { ...money, stops: Object.fromEntries(stops) } } as Line
}

/** The line with changes by the name of the item. Names that the line does not have change nothing. */
export function applyChanges(line: Line, changes: Variant): Line {
  const changed = changedLine(line as unknown as Fields, changes.line ?? {})
  return { ...changed, route: changedRoute(line.route, changes) } as unknown as Line
}

/**
 * What a variant changes, in words, one change each: `front print: tools 3 -> 4`.
 * Empty when it changes nothing.
 *
 * @throws Error when the line has no such variant
 */
export function describeVariant(line: Line, name: string): string[] {
  return describeChanges(line, applyVariant(line, name))
}

function changedLine(line: Fields, changes: Fields): Fields {
  const merged: Record<string, unknown> = { ...changes }
  for (const part of BY_NAME) {
    const fresh = changes[part]
    if (isPlainObject(fresh)) merged[part] = changedNames(line[part], fresh)
  }
  if (isPlainObject(changes.events)) merged.events = changedList(line.events, changes.events, 'event')
  return changedKeys(line, merged, LINE_PARTS)
}

/** Named things with some of them changed key by key, added, or taken away. */
function changedNames(base: unknown, changes: Fields): Fields {
  const known = isPlainObject(base) ? base : {}
  const merged = Object.entries(changes).map(([name, fields]) => {
    const old = Object.hasOwn(known, name) ? known[name] : undefined
    return [name, isPlainObject(old) && isPlainObject(fields) ? changedKeys(old, fields) : fields]
  })
  return changedKeys(known, Object.fromEntries(merged))
}

function changedRoute(route: Route, changes: Variant): Route {
  return route.map(item => {
    const name = nameOfItem(item)
    const inner = 'group' in item ? changedLanes(item, changes) : item
    return Object.hasOwn(changes, name) ? changedItem(inner, changes[name]) : inner
  })
}

function changedLanes(group: Group, changes: Variant): Group {
  const { lanes, each } = group
  const changed = isPlainObject(lanes)
    ? Object.fromEntries(
        Object.entries(lanes).map(([lane, route]) => [lane, changedRoute(route as Route, changes)]),
      )
    : lanes
  return {
    ...group,
    lanes: changed as Group['lanes'],
    ...(each ? { each: changedRoute(each, changes) } : {}),
  }
}

function changedItem(item: Item, fields: Fields): Item {
  const { stops, ...others } = fields
  const base = item as unknown as Fields
  const merged: Record<string, unknown> = { ...others }
  if (stops !== undefined)
    merged.stops = isPlainObject(stops) ? changedList(base.stops, stops, 'stop') : stops
  return changedKeys(base, merged, PARTS) as unknown as Item
}

/** A list of things that carry their names, with those that are named changed or taken away. */
function changedList(list: unknown, changes: Fields, nameKey: 'stop' | 'event'): readonly Fields[] {
  return ((list ?? []) as readonly Fields[])
    .filter(thing => changes[thing[nameKey] as string] !== null)
    .map(thing => {
      const name = thing[nameKey] as string
      return renewsWhatIsLeft(
        changedKeys(thing, (Object.hasOwn(changes, name) ? changes[name] : {}) as Fields),
        changes,
      )
    })
}

/** What is taken away is not renewed by anything. */
function renewsWhatIsLeft(stop: Fields, changes: Fields): Fields {
  const { renews, ...rest } = stop
  if (!Array.isArray(renews)) return stop
  const left = renews.filter(name => changes[name] !== null)
  return left.length === renews.length ? stop : { ...rest, ...(left.length > 0 && { renews: left }) }
}

/**
 * An object with some keys replaced, and those changed to null taken away.
 *
 * @param parts keys whose values are changed key by key in the same way
 */
function changedKeys(base: Fields, changes: Fields, parts: Parts = {}): Fields {
  const merged = Object.entries(changes).map(([key, fresh]) => {
    const old = base[key]
    const inner = Object.hasOwn(parts, key) && isPlainObject(old) && isPlainObject(fresh)
    return [key, inner ? changedKeys(old, fresh, parts[key]) : fresh]
  })
  return Object.fromEntries(
    Object.entries({ ...base, ...Object.fromEntries(merged) }).filter(([, value]) => value !== null),
  )
}
