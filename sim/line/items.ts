import { isPlainObject } from '../base/plain.ts'
import type { Group, Item, Route } from './types.ts'

/** The name of an item, of whatever kind. */
export function nameOfItem(item: Item): string {
  if ('step' in item) return item.step
  if ('buffer' in item) return item.buffer
  if ('conveyor' in item) return item.conveyor
  return 'carriers' in item ? item.carriers : item.group
}

/** A lane route of a group with the names of the lanes that have it. */
export interface LaneRoute {
  readonly names: readonly string[]
  readonly route: Route
}

/** The routes of a group: one for equal lanes together, else one for each lane. */
export function laneRoutes({ lanes, each }: Group): readonly LaneRoute[] {
  if (isPlainObject(lanes))
    return Object.entries(lanes).map(([lane, route]) => ({ names: [lane], route: route as Route }))
  return each ? [{ names: lanes as readonly string[], route: each }] : []
}

/** Every item of a route and of the lanes within it, in the order of the file. */
export function allItems(route: Route): readonly Item[] {
  return route.flatMap(item =>
    'group' in item ? [item, ...laneRoutes(item).flatMap(lane => allItems(lane.route))] : [item],
  )
}

/** How many of each item there are, by name: one, or as many as equal lanes around it, lanes within lanes multiplied. */
export function copiesOf(route: Route, times = 1): ReadonlyMap<string, number> {
  return new Map(
    route.flatMap((item): (readonly [string, number])[] => {
      const own = [nameOfItem(item), times] as const
      if (!('group' in item)) return [own]
      return [own, ...laneRoutes(item).flatMap(lane => [...copiesOf(lane.route, times * lane.names.length)])]
    }),
  )
}

/** Names of the stops of an item, or of what a variant says of one: those that it takes away left out. Made of whatever is there. */
export function namesOfStops(item: unknown): string[] {
  const stops = isPlainObject(item) ? item.stops : undefined
  const listed = Array.isArray(stops) ? stops.map(stop => (isPlainObject(stop) ? stop.stop : undefined)) : []
  const changed = isPlainObject(stops) ? Object.keys(stops).filter(name => stops[name] !== null) : []
  return [...listed, ...changed].filter(name => typeof name === 'string')
}
