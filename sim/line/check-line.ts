import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, wordList } from '../base/problems.ts'
import { checkBins } from './check-bins.ts'
import { buffersBeforeSteps } from './first-stores.ts'
import { allPlaces, type Place } from './outline.ts'

/** What cannot be between the parts of a line. Parts that could not be read are left to their own problems. */
export function checkParts(line: Readonly<Record<string, unknown>>, route: readonly Place[]): Problem[] {
  return [
    ...checkFeed(line.feed),
    ...checkFirstStores(line.feed, route),
    ...checkTests(line, route),
    ...checkBins(line, route),
    ...checkEfficiency(line, route),
    ...checkHeldUp(line, route),
  ]
}

function checkFeed(feed: unknown): Problem[] {
  if (!isPlainObject(feed)) return []
  const given = ['every', 'rate'].filter(key => feed[key] !== undefined)
  if (given.length === 1) return []
  return [
    problemAt(
      ['feed'],
      given.length === 0 ? 'a feed without a pace' : wordList(given, 'and'),
      'either every or rate',
    ),
  ]
}

/** A feed that is as fast as the line takes wafers would fill a store without end for ever. */
function checkFirstStores(feed: unknown, route: readonly Place[]): Problem[] {
  if (feed !== undefined && feed !== 'as fast as taken') return []
  const hint = 'the feed is as fast as wafers are taken, and an unlimited buffer takes them without end'
  return buffersBeforeSteps(route).flatMap(({ item, path }) =>
    item && 'buffer' in item && item.capacity === 'unlimited'
      ? [problemAt([...path, 'capacity'], '"unlimited"', 'a number of wafers, or a feed with a pace', hint)]
      : [],
  )
}

const WAFER =
  'an efficiency of the wafer, such as wafer: { area: "330 cm2", efficiency: { mean: "23.1 %", sd: "0.15 %" } }'

/** What changes the efficiency needs one to change. */
function checkEfficiency(line: Readonly<Record<string, unknown>>, route: readonly Place[]): Problem[] {
  if (line.wafer !== undefined) return []
  return allPlaces(route).flatMap(({ item, path }) => {
    if (!item || !('step' in item)) return []
    const { effect, drift, heldUp, timeLimits = [] } = item
    const found: readonly (readonly [Path, unknown])[] = [
      [['effect'], effect],
      [['drift', 'loses'], drift?.loses],
      [['heldUp', 'loses'], heldUp?.loses],
      ...timeLimits.map(
        ({ late }, index) =>
          [
            ['timeLimits', index, 'late', 'loses'],
            typeof late === 'object' && 'loses' in late ? late.loses : undefined,
          ] as const,
      ),
    ]
    return found
      .filter(([, value]) => value !== undefined)
      .map(([where]) =>
        problemAt([...path, ...where], 'a change of efficiency without a wafer to have one', WAFER),
      )
  })
}

/** What waits at the end of a belt that runs out has come out; only a stop that lets the belt stand holds wafers up inside. */
function checkHeldUp({ events }: Readonly<Record<string, unknown>>, route: readonly Place[]): Problem[] {
  const standing = Array.isArray(events) ? events.filter(event => event?.inside === 'resume') : []
  return allPlaces(route).flatMap(({ item, path }) => {
    if (!item || !('step' in item) || !item.heldUp || !item.belt || item.belt.whenFull === 'stop') return []
    const strikes = standing.some(({ steps }) => !Array.isArray(steps) || steps.includes(item.step))
    if (strikes || item.stops?.some(({ inside }) => inside === 'resume')) return []
    const expected = 'none, or whenFull: "stop", or a stop with inside: "resume"'
    const hint = 'only where the belt stands are wafers held up'
    return [problemAt([...path, 'heldUp'], 'wafers held up on a belt that never stands', expected, hint)]
  })
}

/** Tests measure the efficiency of the wafer, and bins sort by the last test. */
function checkTests(line: Readonly<Record<string, unknown>>, route: readonly Place[]): Problem[] {
  const problems: Problem[] = []
  const places = allPlaces(route)
  const tests = places.filter(({ item }) => item && 'step' in item && item.test)
  if (line.wafer === undefined) {
    for (const { path } of tests)
      problems.push(problemAt([...path, 'test'], 'a test without a wafer to measure', WAFER))
    if (line.bins !== undefined) problems.push(problemAt(['bins'], 'bins without a wafer to sort', WAFER))
  }
  const allRead = places.every(({ item }) => item !== undefined)
  if (line.wafer !== undefined && line.bins !== undefined && tests.length === 0 && allRead) {
    const test = 'a step with test, such as test: { noise: "0.05 %" }'
    problems.push(problemAt(['bins'], 'bins without a test', test, 'the last test sorts into the bins'))
  }
  return problems
}
