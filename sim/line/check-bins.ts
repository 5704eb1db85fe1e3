import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { formatQuantity, parseQuantity } from '../base/quantity.ts'
import { type Reached, throughAll } from './check-load-cap.ts'
import { checkHelp } from './check-stops.ts'
import { allPlaces, type Place } from './outline.ts'
import type { Boxes } from './types.ts'

type Fields = Readonly<Record<string, unknown>>

/** Shares are written with a few digits: their sum may be so far from 1. */
const ROUNDING = 1e-9

/** What cannot be in the bins, and between them and the step that sorts. Parts that could not be read are left to their own problems. */
export function checkBins(line: Fields, route: readonly Place[]): Problem[] {
  const { bins } = line
  if (!isPlainObject(bins)) return []
  return [...checkColours(bins.colours), ...checkBoxes(bins, route)]
}

/** A cell has one of the colours. */
function checkColours(colours: unknown): Problem[] {
  if (!isPlainObject(colours)) return []
  const names = Object.keys(colours)
  if (names.length === 0) return [problemAt(['bins', 'colours'], 'an empty object', 'at least one colour')]
  const shares = Object.values(colours).map(share =>
    typeof share === 'string' ? parseQuantity('share', share) : '',
  )
  const known = shares.filter(share => typeof share === 'number')
  const sum = known.reduce((total, share) => total + share, 0)
  if (known.length < shares.length || Math.abs(sum - 1) <= ROUNDING) return []
  const found = `${formatQuantity('share', sum)} in all`
  return [
    problemAt(['bins', 'colours'], found, 'shares that add up to 100 %', 'a cell has one of the colours'),
  ]
}

function checkBoxes({ boxes, count }: Fields, route: readonly Place[]): Problem[] {
  if (!isPlainObject(boxes)) return []
  const { ownBins, swap } = boxes as unknown as Boxes
  const problems = isPlainObject(swap) ? checkHelp(swap, ['bins', 'boxes', 'swap']) : []
  if (Array.isArray(ownBins) && typeof count === 'number' && ownBins[1] > count)
    problems.push(problemAt(['bins', 'boxes', 'ownBins'], JSON.stringify(ownBins), `bins from 1 to ${count}`))
  const test = allPlaces(route).findLast(({ item }) => item && 'step' in item && item.test)
  if (!test) return problems
  const { at } = boxes as unknown as Boxes
  if (typeof at !== 'string') return [...problems, ...checkSorter(test, ['bins', 'boxes'], 'a last test')]
  const later = behind(route, test, []) ?? []
  const sorter = later.find(({ kind, name }) => kind === 'step' && name === at)
  if (sorter) return [...problems, ...checkSorter(sorter, ['bins', 'boxes', 'at'], 'a step')]
  // Left to the problems of an item that could not be read.
  return allPlaces(route).some(({ kind }) => kind === undefined)
    ? problems
    : [...problems, unknown(at, later)]
}

/** Boxes hold the one cell that a tool has in work. */
function checkSorter({ item }: Place, path: Path, what: string): Problem[] {
  if (!item || !('step' in item) || !(item.belt || item.batch)) return []
  const found = `boxes behind ${quoted(item.step)}, a ${item.belt ? 'belt' : 'batch tool'}`
  const hint = 'a full box holds the one cell that the tool has in work'
  return [problemAt(path, found, `${what} with cycle or cycles`, hint)]
}

/**
 * What all tested cells come to behind the test, and no others: behind a group whose lanes
 * differ there are cells of the other lanes.
 */
function behind(
  route: readonly Place[],
  test: Place,
  beyond: readonly Reached[],
): readonly Reached[] | undefined {
  for (const [index, place] of route.entries()) {
    const later = [...throughAll(route.slice(index + 1)), ...beyond]
    if (place === test) return later
    const inner = place.lanes.length === 1 ? later : []
    const found = place.lanes
      .map(lane => behind(lane.route, test, inner))
      .find(reached => reached !== undefined)
    if (found) return found
  }
  return undefined
}

function unknown(at: string, later: readonly Reached[]): Problem {
  const steps = later.flatMap(({ kind, name }) => (kind === 'step' && name !== undefined ? [name] : []))
  const near = nearest(at, steps)
  const expected =
    steps.length === 0
      ? 'a step behind the last test, but there is none that all tested cells come to'
      : `a step behind the last test: ${wordList(steps.map(quoted), 'or')}`
  return problemAt(['bins', 'boxes', 'at'], quoted(at), expected, near && `did you mean "${near}"?`)
}
