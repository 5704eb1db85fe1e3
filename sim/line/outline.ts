import { isPlainObject } from '../base/plain.ts'
import { foundText, type Path, type Problem, problemAt } from '../base/problems.ts'
import { checkSoundParts, checkValues } from './check-values.ts'
import { nameOf, problemsOf, wrongKeys } from './issues.ts'
import { resolveRecipe } from './recipes.ts'
import { ITEM_KINDS, ITEM_SCHEMAS, type ItemKind, ROUTE } from './schema.ts'
import { oneKey } from './schema-parts.ts'
import type { Item, Route } from './types.ts'

/** An item of the route, a step with its recipe, and where it stands. What is missing could not be read: it has problems of its own. */
export interface Place {
  readonly path: Path
  readonly kind?: ItemKind
  readonly name?: string
  readonly item?: Item
  /** Lanes of a group. Equal lanes are one entry with all their names. */
  readonly lanes: readonly Lane[]
}

export interface Lane {
  readonly names: readonly string[]
  readonly path: Path
  readonly route: readonly Place[]
}

/**
 * Reads a route item by item and puts down what is wrong with each by itself, so that
 * the checks between items can go on with those that are right.
 */
export function outlineRoute(route: unknown, path: Path, problems: Problem[]): readonly Place[] {
  if (!Array.isArray(route)) {
    problems.push(problemAt(path, foundText(route), ROUTE))
    return []
  }
  if (route.length === 0) problems.push(problemAt(path, 'an empty list', 'at least one step'))
  return route.map((item, index) => outlineItem(item, [...path, index, ...nameOf(item)], problems))
}

/** The outline of a line that has no problems. */
export function outlineOf(route: Route): readonly Place[] {
  return outlineRoute(route, ['route'], [])
}

function outlineItem(item: unknown, path: Path, problems: Problem[]): Place {
  if (!isPlainObject(item)) {
    problems.push(problemAt(path, foundText(item), 'an object such as { step: "texture", cycle: "1.2 s" }'))
    return { path, lanes: [] }
  }
  const kind = oneKey(item, ITEM_KINDS)
  if (typeof kind !== 'string') {
    problems.push(problemAt(path, kind.found ?? foundText(item), kind.expected, kind.hint))
    return { path, lanes: [] }
  }
  const schema = ITEM_SCHEMAS[kind as ItemKind]
  const own = problemsOf(schema, item, path)
  if (own.length === 0) own.push(...checkValues(item as unknown as Item, path))
  else if (kind === 'step') own.push(...checkSoundParts(item, wrongKeys(schema, item), path))
  problems.push(...own)
  const name = item[kind]
  return {
    path,
    kind: kind as ItemKind,
    ...(typeof name === 'string' ? { name } : {}),
    ...(own.length === 0 ? { item: asItRuns(item as unknown as Item) } : {}),
    lanes: kind === 'group' ? outlineLanes(item, path, problems) : [],
  }
}

function asItRuns(item: Item): Item {
  return 'step' in item ? resolveRecipe(item) : item
}

function outlineLanes(group: Readonly<Record<string, unknown>>, path: Path, problems: Problem[]): Lane[] {
  const { lanes, each } = group
  if (isPlainObject(lanes))
    return Object.entries(lanes).map(([lane, route]) => {
      const lanePath = [...path, 'lanes', { name: lane }]
      return { names: [lane], path: lanePath, route: outlineRoute(route, lanePath, problems) }
    })
  if (each === undefined) return []
  const names = Array.isArray(lanes) ? lanes.filter(lane => typeof lane === 'string') : []
  const eachPath = [...path, 'each']
  return [{ names, path: eachPath, route: outlineRoute(each, eachPath, problems) }]
}

/** Every place of the route and of the lanes within it, in the order of the file. */
export function allPlaces(route: readonly Place[]): readonly Place[] {
  return route.flatMap(place => [place, ...place.lanes.flatMap(lane => allPlaces(lane.route))])
}

/** Whether wafers only stay there: something behind it takes them. */
export function isStore(kind: ItemKind | undefined): boolean {
  return kind === 'buffer' || kind === 'conveyor' || kind === 'carriers'
}
