import type * as z from 'zod'
import { isPlainObject } from '../base/plain.ts'
import { boats, drift, dummies, effect, heldUp, loadCap, timeLimit, warmUp } from './schema-more.ts'
import {
  choose,
  keyed,
  listOf,
  measured,
  name,
  namedMap,
  oneWord,
  quantityGauge,
  type ShapeOf,
  text,
  whole,
} from './schema-parts.ts'
import { lastingTime, workingTime } from './schema-spread.ts'
import { stop } from './schema-stop.ts'
import { anyTime, MOST_HELPERS, MOST_TOOLS, MOST_WAFERS, share, someTime } from './schema-values.ts'
import type { Batch, Belt, Breakage, Recipe, Rework, Step, Test } from './types.ts'

const LENGTH = quantityGauge('length')
const someLength = measured(LENGTH, { least: 1e-4, most: 1000 })

const BELT = 'an object such as { spacing: "1 s", transit: "60 s" }'
const beltShape = {
  spacing: someTime.optional(),
  transit: someTime.optional(),
  length: someLength.optional(),
  speed: measured(quantityGauge('speed'), { least: 1e-5, most: 100 }).optional(),
  pitch: someLength.optional(),
  lanes: whole(1, 50).optional(),
  whenFull: oneWord('run out', 'stop').optional(),
  keepFree: whole(0, MOST_WAFERS).optional(),
  tolerance: anyTime.optional(),
  overProcessed: share.optional(),
} satisfies ShapeOf<Belt>

const batchShape = {
  load: whole(1, MOST_WAFERS),
  least: whole(1, MOST_WAFERS).optional(),
  longestWait: anyTime.optional(),
  time: workingTime,
  tubes: whole(1, 50).optional(),
  loading: lastingTime.optional(),
  unloading: lastingTime.optional(),
  loaderServes: oneWord('longest waiting', 'lowest number', 'in turn').optional(),
  boats: boats.optional(),
  dummies: dummies.optional(),
  cap: loadCap.optional(),
} satisfies ShapeOf<Batch>

const clearingShape = {
  share: share.optional(),
  lasts: lastingTime,
  skill: name.optional(),
  people: whole(1, MOST_HELPERS).optional(),
  priority: whole(-1000, 1000).optional(),
  from: text.optional(),
} satisfies ShapeOf<NonNullable<Breakage['clearing']>>

const breakageShape = {
  share,
  clearing: keyed('an object such as { lasts: "5 min" }', clearingShape).optional(),
  from: text.optional(),
} satisfies ShapeOf<Breakage>
const breakageObject = keyed('an object such as { share: "0.1 %" }', breakageShape)
const breakage = choose(value => (isPlainObject(value) ? breakageObject : share))

const reworkShape = {
  share,
  to: name,
  atMost: whole(1, 100),
  then: oneWord('reject', 'pass').optional(),
  from: text.optional(),
} satisfies ShapeOf<Rework>

const testShape = {
  noise: share.optional(),
  rejectBelow: share.optional(),
  reworkBelow: share.optional(),
  finds: share.optional(),
  downgrades: share.optional(),
} satisfies ShapeOf<Test>

const recipeShape = {
  cycle: workingTime.optional(),
  belt: keyed(BELT, beltShape).optional(),
  batch: keyed('an object such as { time: "80 min" }', allOptional(batchShape)).optional(),
  effect: effect.optional(),
  reject: share.optional(),
  breakage: breakage.optional(),
  defects: share.optional(),
  from: text.optional(),
} satisfies ShapeOf<Recipe>

function allOptional(shape: Readonly<Record<string, z.ZodType>>): Record<string, z.ZodType> {
  return Object.fromEntries(Object.entries(shape).map(([key, schema]) => [key, schema.optional()]))
}

export const stepShape = {
  step: name,
  tools: whole(1, MOST_TOOLS).optional(),
  cycle: workingTime.optional(),
  cycles: listOf('a list of cycle times, one for each tool', workingTime).optional(),
  belt: keyed(BELT, beltShape).optional(),
  batch: keyed('an object such as { load: 1200, time: "85 min" }', batchShape).optional(),
  breakage: breakage.optional(),
  reject: share.optional(),
  rework: keyed('an object such as { share: "2 %", to: "print", atMost: 1 }', reworkShape).optional(),
  test: keyed('an object such as { noise: "0.05 %" }', testShape).optional(),
  stops: listOf('a list of stops', stop).optional(),
  effect: effect.optional(),
  recipes: namedMap(
    'an object with a recipe for each name, such as { fast: { cycle: "2 s" } }',
    keyed('a recipe such as { cycle: "2 s" }', recipeShape),
  ).optional(),
  recipe: name.optional(),
  defects: share.optional(),
  drift: drift.optional(),
  heldUp: heldUp.optional(),
  timeLimits: listOf('a list of time limits', timeLimit).optional(),
  warmUp: warmUp.optional(),
  from: text.optional(),
} satisfies ShapeOf<Step>
