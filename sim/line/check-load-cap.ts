import { nearest } from '../base/nearest.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { gathered } from './check-names.ts'
import { allPlaces, type Place } from './outline.ts'
import type { Batch } from './types.ts'

/** Caps on the wafers between the loads of a step and a later one. Left to the problems of its items where a route could not be read. */
export function checkLoadCaps(route: readonly Place[]): Problem[] {
  return walk(route, [])
}

/** @param beyond what every wafer comes to behind this route */
function walk(route: readonly Place[], beyond: readonly Place[]): Problem[] {
  return route.flatMap((place, index) => {
    const later = [...route.slice(index + 1), ...beyond]
    const inner = place.lanes.flatMap(lane => walk(lane.route, later))
    const batch = place.item && 'step' in place.item ? place.item.batch : undefined
    return batch?.cap ? [...checkUntil(batch, [...place.path, 'batch', 'cap'], later), ...inner] : inner
  })
}

function checkUntil({ load, cap }: Batch, path: Path, later: readonly Place[]): Problem[] {
  if (!cap) return []
  const all = throughAll(later)
  const until = all.findIndex(({ name, kind }) => kind === 'step' && name === cap.until)
  if (until < 0)
    return allPlaces(later).some(({ kind }) => kind === undefined) ? [] : [unknown(cap.until, path, all)]
  // What stands between must not wait for wafers that the cap holds back.
  const needed = load + all.slice(0, until + 1).reduce((sum, place) => sum + held(place), 0)
  if (cap.wafers >= needed) return []
  const hint = 'a load here, and what carriers and loads on the way wait for, must fit in together'
  return [problemAt([...path, 'wafers'], String(cap.wafers), `at least ${needed}`, hint)]
}

function unknown(until: string, path: Path, all: readonly Reached[]): Problem {
  const steps = all.flatMap(({ kind, name }) => (kind === 'step' && name !== undefined ? [name] : []))
  const near = nearest(until, steps)
  const expected =
    steps.length === 0
      ? 'a later step that all wafers come to, but there is none'
      : `a later step that all wafers come to: ${wordList(steps.map(quoted), 'or')}`
  return problemAt([...path, 'until'], quoted(until), expected, near && `did you mean "${near}"?`)
}

/** An item that every wafer comes to, and in how many lanes it stands. */
export interface Reached extends Place {
  readonly times: number
}

/** Of a group whose lanes differ, no item is. */
export function throughAll(route: readonly Place[], times = 1): readonly Reached[] {
  return route.flatMap(place => [
    { ...place, times },
    ...(place.lanes.length === 1
      ? throughAll(place.lanes[0].route, times * Math.max(1, place.lanes[0].names.length))
      : []),
  ])
}

/** Wafers that may wait at an item for one more. */
function held({ item, lanes, times }: Reached): number {
  const own = item ? times * Math.max(0, gathered(item) - 1) : 0
  if (lanes.length < 2) return own
  const inside = allPlaces(lanes.flatMap(lane => lane.route))
  return (
    own +
    inside.reduce((sum, place) => sum + (place.item ? times * Math.max(0, gathered(place.item) - 1) : 0), 0)
  )
}
