import { quantity } from '../base/quantity.ts'
import type { Bins } from '../line/types.ts'
import { timeLaw } from './laws.ts'
import { callPlan } from './people.ts'
import type { BinsPlan, BoxesPlan, PeoplePlan } from './plan.ts'

/** What the last test sorts into. */
export interface Sorts {
  readonly bins: BinsPlan
  readonly boxes?: BoxesPlan
}

export function sortsPlan(given: Bins, people: PeoplePlan): Sorts {
  const bins = binsPlan(given)
  const boxes = boxesPlan(given, bins, people)
  return { bins, ...(boxes && { boxes }) }
}

export function binsPlan({ first, width, count, colours }: Bins): BinsPlan {
  const shares = Object.values(colours ?? { '': '100 %' as const }).map(share => quantity('share', share))
  let sum = 0
  return {
    first: quantity('share', first),
    width: quantity('share', width),
    count,
    colours: Object.keys(colours ?? { '': '100 %' }),
    upToColour: shares.map(share => {
      sum += share
      return sum
    }),
  }
}

/** Classes of cells that a sorter tells apart, see BinsPlan. */
export function classesOf({ count, colours }: BinsPlan): number {
  return 1 + count * colours.length
}

/** Outputs: the low-grade box; each bin and colour of its own; the overflow, where some have none. */
export function boxesPlan({ boxes, count }: Bins, bins: BinsPlan, people: PeoplePlan): BoxesPlan | undefined {
  if (!boxes) return undefined
  const { holds, perOutput = 2, ownBins: [from, to] = [1, count], swap } = boxes
  const colours = bins.colours.length
  const own = (to - from + 1) * colours
  const outputOf = Array.from({ length: classesOf(bins) }, (_, cells) => {
    const bin = Math.ceil(cells / colours)
    if (cells === 0) return 0
    return bin < from || bin > to ? 1 + own : cells - (from - 1) * colours
  })
  const call = callPlan(swap, people)
  return {
    holds,
    perOutput,
    outputs: Math.max(...outputOf) + 1,
    outputOf,
    lasts: timeLaw(swap.lasts),
    ...(call && { call }),
  }
}
