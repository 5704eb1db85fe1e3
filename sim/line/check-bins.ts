import { isPlainObject } from '../base/plain.ts'
import { type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatQuantity, parseQuantity } from '../base/quantity.ts'
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
  const sorter = allPlaces(route).findLast(({ item }) => item && 'step' in item && item.test)
  if (sorter?.item && 'step' in sorter.item && (sorter.item.belt || sorter.item.batch)) {
    const found = `boxes behind ${quoted(sorter.item.step)}, a ${sorter.item.belt ? 'belt' : 'batch tool'}`
    const hint = 'a full box holds the one cell that the tester has in work'
    problems.push(problemAt(['bins', 'boxes'], found, 'a last test with cycle or cycles', hint))
  }
  return problems
}
