import { isPlainObject } from '../base/plain.ts'
import { laneRoutes } from './items.ts'
import type { Item, Line, Recipe, Route, Step } from './types.ts'

/** The step as it runs: its recipe, if it picks one, merged over it. It has neither `recipes` nor `recipe`. */
export function resolveRecipe(step: Step): Step {
  const { recipes: _recipes, recipe, ...own } = step
  const picked = recipe === undefined ? undefined : recipeOf(step, recipe)
  return picked ? withRecipe(own, picked) : own
}

/** A recipe of a step by its name; undefined when there is none. */
export function recipeOf({ recipes = {} }: Step, name: string): Recipe | undefined {
  return Object.hasOwn(recipes, name) ? recipes[name] : undefined
}

/**
 * A step with the entries of a recipe instead of its own; within `belt` and `batch` key by
 * key. One cycle time replaces the cycle times of the tools.
 */
export function withRecipe(step: Step, { from: _from, belt, batch, ...entries }: Recipe): Step {
  const { cycles, ...rest } = step
  return {
    ...rest,
    ...(cycles && entries.cycle === undefined ? { cycles } : {}),
    ...entries,
    ...(belt ? { belt: { ...step.belt, ...belt } } : {}),
    ...(batch ? { batch: { ...step.batch, ...batch } as NonNullable<Step['batch']> } : {}),
  }
}

/** A line whose steps are as they run, those in lanes too. */
export function resolvedLine(line: Line): Line {
  return { ...line, route: resolvedRoute(line.route) }
}

function resolvedRoute(route: Route): Route {
  return route.map(resolvedItem)
}

function resolvedItem(item: Item): Item {
  if ('step' in item) return resolveRecipe(item)
  if (!('group' in item)) return item
  if (!isPlainObject(item.lanes)) return item.each ? { ...item, each: resolvedRoute(item.each) } : item
  const lanes = laneRoutes(item).map(({ names: [name], route }) => [name, resolvedRoute(route)] as const)
  return { ...item, lanes: Object.fromEntries(lanes) }
}
