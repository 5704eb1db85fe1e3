import { isPlainObject } from '../base/plain.ts'
import { describeChanges } from './describe.ts'
import { nameOfItem } from './items.ts'
import type { Group, Item, Line, Route, Stop, Variant } from './types.ts'

type Fields = Readonly<Record<string, unknown>>

/** Parts of a step that a variant changes key by key, as it does the step itself. */
const PARTS = ['belt', 'batch']

/**
 * The line with one of its variants applied, without the variants.
 *
 * What a variant says of an item replaces what the item says, key by key; so it does
 * within `belt` and `batch`, and within the stops that it names. `null` takes a key,
 * or a stop, away.
 *
 * @throws Error when the line has no such variant
 */
export function applyVariant(line: Line, name: string): Line {
  const { variants = {}, ...base } = line
  if (!Object.hasOwn(variants, name)) throw new Error(`the line has no variant "${name}"`)
  return applyChanges(base, variants[name])
}

/** The line with changes by the name of the item. Names that the line does not have change nothing. */
export function applyChanges(line: Line, changes: Variant): Line {
  const changed = changedKeys(line as unknown as Fields, changes.line ?? {})
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
  for (const part of PARTS) {
    const [old, fresh] = [base[part], others[part]]
    if (isPlainObject(old) && isPlainObject(fresh)) merged[part] = changedKeys(old, fresh)
  }
  if (stops !== undefined)
    merged.stops = isPlainObject(stops)
      ? changedStops(base.stops as readonly Stop[] | undefined, stops)
      : stops
  return changedKeys(base, merged) as unknown as Item
}

function changedStops(stops: readonly Stop[] = [], changes: Fields): readonly Stop[] {
  return stops
    .filter(({ stop }) => changes[stop] !== null)
    .map(stop => {
      const fields = Object.hasOwn(changes, stop.stop) ? changes[stop.stop] : {}
      return changedKeys(stop as unknown as Fields, fields as Fields) as unknown as Stop
    })
}

/** An object with some keys replaced, and those changed to null taken away. */
function changedKeys(base: Fields, changes: Fields): Fields {
  return Object.fromEntries(Object.entries({ ...base, ...changes }).filter(([, value]) => value !== null))
}
