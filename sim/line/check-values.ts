import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { quantity } from '../base/quantity.ts'
import { checkCarriers } from './check-carriers.ts'
import { checkRecipes } from './check-recipes.ts'
import { checkDrift, checkHelp, checkStops } from './check-stops.ts'
import { resolveRecipe } from './recipes.ts'
import type { Batch, Belt, Buffer, Group, Item, Step } from './types.ts'

/** Ways a step can work; each has exactly one. */
const WAYS = ['cycle', 'cycles', 'belt', 'batch'] as const

/** What cannot be in one item whose values are each of the right form. */
export function checkValues(item: Item, path: Path): Problem[] {
  if ('step' in item) return checkStep(item, path)
  if ('buffer' in item) return checkBuffer(item, path)
  if ('carriers' in item) return checkCarriers(item, path)
  return 'group' in item ? checkGroup(item, path) : []
}

function checkBuffer({ order, leastDwell, capacity }: Buffer, path: Path): Problem[] {
  if (leastDwell === undefined) return []
  const found = quoted(leastDwell)
  const dwellPath = [...path, 'leastDwell']
  if (capacity === 0)
    return [
      problemAt(dwellPath, found, 'none in a buffer without places', 'the wafer would have nowhere to stay'),
    ]
  if (order !== 'last in, first out') return []
  const hint = 'the last wafer in would have to wait while it stands before the others'
  return [problemAt(dwellPath, found, 'none in a buffer that is last in, first out', hint)]
}

function checkGroup({ lanes, each }: Group, path: Path): Problem[] {
  const lanesPath = [...path, 'lanes']
  if (!Array.isArray(lanes)) {
    const problems =
      each === undefined
        ? []
        : [problemAt([...path, 'each'], 'a route', 'none beside lanes with routes of their own')]
    if (Object.keys(lanes).length === 0)
      problems.push(problemAt(lanesPath, 'an empty object', 'at least one lane'))
    return problems
  }
  const problems: Problem[] = []
  if (each === undefined)
    problems.push(
      problemAt([...path, 'each'], 'nothing', 'the route of each lane, as the lanes are given by name only'),
    )
  if (lanes.length === 0) problems.push(problemAt(lanesPath, 'an empty list', 'at least one lane'))
  if (lanes.length > 100)
    problems.push(problemAt(lanesPath, `a list of ${lanes.length}`, 'at most 100 lanes'))
  lanes.forEach((lane, index) => {
    if (lanes.indexOf(lane) < index)
      problems.push(
        problemAt(
          [...lanesPath, index],
          quoted(lane),
          'a name of its own',
          `lanes[${lanes.indexOf(lane)}] has it`,
        ),
      )
  })
  return problems
}

function checkStep(step: Step, path: Path): Problem[] {
  if (step.recipes === undefined && step.recipe === undefined) return checkOwn(step, path)
  const recipes = checkRecipes(step, path, checkOwn)
  // A recipe that is picked has been checked over the step.
  return step.recipe === undefined ? [...checkOwn(resolveRecipe(step), path), ...recipes] : recipes
}

/** Keys whose meaning hangs on another key. */
const TIED: Readonly<Record<string, readonly string[]>> = {
  tools: ['cycles', 'stops', 'drift'],
  stops: ['drift'],
  rework: ['test'],
  recipes: ['recipe'],
}

/**
 * What cannot be in the other parts of a step of which some keys are not of the right form,
 * so that a person hears of both at once. Nothing when it is not known how the step works.
 *
 * @param wrong keys that are not of the right form
 */
export function checkSoundParts(
  step: Readonly<Record<string, unknown>>,
  wrong: readonly string[],
  path: Path,
): Problem[] {
  const left = new Set([...wrong, ...wrong.flatMap(key => TIED[key] ?? [])])
  const sound = Object.fromEntries(Object.entries(step).filter(([key]) => !left.has(key)))
  const ways = WAYS.filter(way => sound[way] !== undefined)
  return ways.length === 1 ? checkStep(sound as unknown as Step, path) : []
}

/** A step as it runs. */
function checkOwn(step: Step, path: Path): Problem[] {
  const ways = WAYS.filter(way => step[way] !== undefined)
  const problems: Problem[] = []
  if (ways.length !== 1)
    problems.push(
      problemAt(
        path,
        ways.length === 0 ? 'a step without a way to work' : wordList(ways, 'and'),
        `exactly one of ${wordList(WAYS, 'and')}`,
      ),
    )
  problems.push(...checkCycles(step, path))
  if (step.belt) problems.push(...checkBelt(step.belt, [...path, 'belt']))
  if (step.batch) problems.push(...checkBatch(step.batch, [...path, 'batch']))
  problems.push(...checkOutcome(step, path))
  if (ways.length === 1) problems.push(...checkStops(step, path))
  problems.push(...checkDrift(step, path))
  return problems
}

function checkCycles({ cycles, tools = 1 }: Step, path: Path): Problem[] {
  if (cycles === undefined || cycles.length === tools) return []
  return [
    problemAt([...path, 'cycles'], `a list of ${cycles.length}`, `one cycle time for each tool: ${tools}`),
  ]
}

/** Keys of the two ways to give the pace of a belt. */
const BY_TIME = ['spacing', 'transit'] as const
const BY_LENGTH = ['length', 'speed', 'pitch'] as const

function checkBelt(belt: Belt, path: Path): Problem[] {
  const problems: Problem[] = []
  const given = [...BY_TIME, ...BY_LENGTH].filter(key => belt[key] !== undefined)
  const complete =
    wordList(given, 'and') === wordList(BY_TIME, 'and') ||
    wordList(given, 'and') === wordList(BY_LENGTH, 'and')
  if (!complete)
    problems.push(
      problemAt(
        path,
        given.length === 0 ? 'a belt without a pace' : wordList(given, 'and'),
        'either spacing and transit, or length, speed and pitch',
      ),
    )
  if (belt.whenFull === 'stop' && belt.keepFree !== undefined)
    problems.push(
      problemAt(
        [...path, 'keepFree'],
        String(belt.keepFree),
        'none on a belt that stops when full',
        'keepFree is for whenFull: "run out"',
      ),
    )
  if (belt.whenFull !== 'stop' && belt.overProcessed !== undefined)
    problems.push(
      problemAt(
        [...path, 'overProcessed'],
        quoted(belt.overProcessed),
        'none on a belt that runs out',
        'overProcessed is for whenFull: "stop"',
      ),
    )
  return problems
}

function checkBatch({ load, least, longestWait, dummies }: Batch, path: Path): Problem[] {
  const problems: Problem[] = []
  if (least !== undefined && least > load)
    problems.push(problemAt([...path, 'least'], String(least), `at most the load, ${load}`))
  if (least === undefined && longestWait !== undefined)
    problems.push(
      problemAt(
        [...path, 'longestWait'],
        quoted(longestWait),
        'none without "least"',
        'without "least" only full loads start, however long they wait',
      ),
    )
  if (least === undefined && dummies !== undefined)
    problems.push(
      problemAt([...path, 'dummies'], 'dummy wafers', 'none without "least"', 'there are no short loads'),
    )
  return problems
}

/** Breakage, reject, rework and test: the ways in which a wafer does not simply pass. */
function checkOutcome({ breakage = '0 %', reject = '0 %', rework, test, belt }: Step, path: Path): Problem[] {
  const problems: Problem[] = []
  if (belt && typeof breakage === 'object' && breakage.clearing)
    problems.push(
      problemAt(
        [...path, 'breakage', 'clearing'],
        'clearing on a belt',
        'a stop of its own for it',
        'shards on a belt are found as a jam: { stop: "jam", every: ..., inside: { lose: [1, 4] } }',
      ),
    )
  if (typeof breakage === 'object' && breakage.clearing)
    problems.push(...checkHelp(breakage.clearing, [...path, 'breakage', 'clearing']))
  const broken = typeof breakage === 'string' ? breakage : breakage.share
  const shares = [broken, reject, rework?.share ?? '0 %'].map(share => quantity('share', share))
  // Shares such as 33.3 % and 66.7 % may come out a rounding above one.
  if (shares.reduce((sum, share) => sum + share, 0) > 1 + 1e-12)
    problems.push(
      problemAt(
        path,
        `breakage ${broken}, reject ${reject}, rework ${rework?.share ?? '0 %'}`,
        'at most 100 % together',
      ),
    )
  if (test?.reworkBelow === undefined) return problems
  if (rework === undefined)
    problems.push(
      problemAt(
        [...path, 'test', 'reworkBelow'],
        quoted(test.reworkBelow),
        '"rework" in the same step',
        'it says where to and how often',
      ),
    )
  if (
    test.rejectBelow !== undefined &&
    quantity('share', test.reworkBelow) <= quantity('share', test.rejectBelow)
  )
    problems.push(
      problemAt(
        [...path, 'test', 'reworkBelow'],
        quoted(test.reworkBelow),
        `more than rejectBelow, "${test.rejectBelow}"`,
      ),
    )
  return problems
}
