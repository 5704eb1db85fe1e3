import { nearest } from '../base/nearest.ts'
import {
  foundText,
  type Path,
  type Problem,
  pathText,
  problemAt,
  quoted,
  wordList,
} from '../base/problems.ts'
import { withRecipe } from './recipes.ts'
import type { Recipe, Step } from './types.ts'

/** Ways to work of which a recipe can change one: that of its step. */
const WAYS = ['cycle', 'belt', 'batch'] as const
const TOOLS = { cycle: 'a single-wafer tool', belt: 'a belt', batch: 'a batch tool' } as const

/**
 * What cannot be in the recipes of a step.
 *
 * @param checkOwn the checks of a step as it runs; what they say of the step without a recipe
 * is not said again
 */
export function checkRecipes(
  step: Step,
  path: Path,
  checkOwn: (step: Step, path: Path) => Problem[],
): Problem[] {
  const { recipes = {}, recipe: picked, ...own } = step
  const unlike = Object.entries(recipes).flatMap(([name, recipe]) =>
    checkWay(own, recipe, recipePath(path, name)),
  )
  const all = [...checkPicked(step, path), ...unlike]
  if (unlike.length > 0) return all
  const known = new Set((picked === undefined ? checkOwn(own, path) : []).map(relativeTo(path)))
  for (const [name, recipe] of Object.entries(recipes)) {
    const inRecipe = recipePath(path, name)
    const relative = relativeTo(inRecipe)
    const problems = checkOwn(withRecipe(own, recipe), inRecipe)
    all.push(...problems.filter(problem => !known.has(relative(problem))))
    for (const problem of problems) known.add(relative(problem))
  }
  return all
}

function recipePath(path: Path, name: string): Path {
  return [...path, 'recipes', { name }]
}

/** A problem without the place of the step. */
function relativeTo(path: Path): (problem: Problem) => string {
  const base = pathText(path)
  return ({ path: full, found, expected }) => JSON.stringify([full.slice(base.length), found, expected])
}

function checkPicked({ recipe, recipes = {} }: Step, path: Path): Problem[] {
  if (recipe === undefined || Object.hasOwn(recipes, recipe)) return []
  const names = Object.keys(recipes)
  const near = nearest(recipe, names)
  const expected = names.length === 0 ? 'recipes to pick from' : wordList(names.map(quoted), 'or')
  return [problemAt([...path, 'recipe'], quoted(recipe), expected, near && `did you mean "${near}"?`)]
}

/** A recipe does not make another kind of tool of a step. */
function checkWay(step: Step, recipe: Recipe, path: Path): Problem[] {
  const way = step.cycles ? 'cycle' : WAYS.find(key => step[key] !== undefined)
  if (way === undefined) return []
  return WAYS.filter(key => key !== way && recipe[key] !== undefined).map(key =>
    problemAt([...path, key], foundText(recipe[key]), `none, as ${quoted(step.step)} is ${TOOLS[way]}`),
  )
}
