import { quantity } from '../base/quantity.ts'
import { cellWatts } from '../money/watts.ts'
import { flowOfFeed } from './capacity.ts'
import type { Line } from './types.ts'

/** What a good cell brings and takes on paper, in the currency of the scenario. */
export interface CellMoney {
  /** Its price, at the mean efficiency of the wafers. */
  readonly earns: number
  /**
   * The wafer and what steps add to it, for each cell that ends as a good one: what went into
   * wafers that are lost and what is done again is in it, dummy wafers are not.
   */
  readonly costs: number
}

/** The money of a good cell; undefined when the line says nothing of money, or no wafer ends as a good cell. */
export function cellMoney(line: Line): CellMoney | undefined {
  const { money, wafer } = line
  if (!money) return undefined
  const { visits, yield: good } = flowOfFeed(line)
  if (!(good > 0)) return undefined
  const watts =
    wafer === undefined
      ? 0
      : cellWatts(quantity('area', wafer.area), quantity('share', wafer.efficiency.mean))
  const added = Object.entries(money.addedPerWafer ?? {}).reduce(
    (sum, [step, each]) => sum + each * (visits.get(step) ?? 0),
    0,
  )
  return {
    earns: money.pricePerCell ?? (money.pricePerWatt ?? 0) * watts,
    costs: (money.wafer + added) / good,
  }
}
