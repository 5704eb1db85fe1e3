import { quantity } from '../../base/quantity.ts'
import type { Money, Outlay } from '../../line/types.ts'
import { annuityFactor, internalRate, levelFlows } from '../../money/cash-flow.ts'
import type { Estimate } from '../../stats/estimate.ts'
import { scaled } from '../../stats/scale.ts'
import { shown } from '../designs/verdict.ts'

/** What a change brings in money, each figure with the interval of the cash behind it. */
export interface Return {
  /** What may be paid for it at most: the present value of its cash over the years. */
  readonly worth?: Estimate
  /** Investment / cash a year; absent without a price, and where the cash is not above zero. `high` is absent when it may never pay back. */
  readonly paybackYears?: Estimate
  readonly npv?: Estimate
  readonly internalRate?: Estimate
}

export type PaybackVerdict =
  | 'shown to pay'
  | 'shown not to pay'
  | 'not shown to pay'
  | 'no difference shown'
  | 'no difference in any run'
  | 'no price given'

/** The figures of money of a change from its cash a year: an equal amount at the end of each year. */
export function returnOf(cash: Estimate, outlay: Outlay | undefined, money: Money): Return {
  const { discountRate, years } = money
  const known = discountRate !== undefined && years !== undefined
  const factor = known ? annuityFactor(quantity('share', discountRate), years) : undefined
  const worth = factor === undefined ? {} : { worth: scaled(cash, factor) }
  if (!outlay) return worth
  const { investment } = outlay
  return {
    ...worth,
    ...asEstimate('paybackYears', cash, perYear => (perYear > 0 ? investment / perYear : undefined)),
    ...(factor !== undefined && { npv: shifted(scaled(cash, factor), -investment) }),
    ...(years !== undefined &&
      investment > 0 &&
      asEstimate('internalRate', cash, perYear => internalRate(levelFlows(investment, perYear, years)))),
  }
}

/**
 * The verdict: by the net present value first, since cash may come without cells.
 *
 * @param margin what the cells bring more, or wafers, materials and parts take less, a year, before what the change costs
 * @param touches whether any replication made another number of cells, or another margin: where all are equal, the
 * change may concern what has not happened in any
 */
export function verdictOf(
  gain: Estimate,
  margin: Estimate,
  outlay: Outlay | undefined,
  { npv }: Return,
  touches: boolean,
): PaybackVerdict {
  const pays = npv === undefined ? 'no difference shown' : shown(npv)
  if (outlay && pays === 'more') return 'shown to pay'
  if (outlay && pays === 'less' && touches) return 'shown not to pay'
  const unknown = [gain, margin].every(one => shown(one) === 'no difference shown')
  if (unknown) return touches ? 'no difference shown' : 'no difference in any run'
  return !outlay || npv === undefined ? 'no price given' : 'not shown to pay'
}

function shifted({ mean, low, high, n }: Estimate, by: number): Estimate {
  if (low === undefined || high === undefined) return { mean: mean + by, n }
  return { mean: mean + by, low: low + by, high: high + by, n }
}

/** A figure that rises or falls with the cash, taken at its mean and at the ends of its interval. */
function asEstimate<Name extends string>(
  name: Name,
  { mean, low, high, n }: Estimate,
  figure: (perYear: number) => number | undefined,
): { readonly [key in Name]?: Estimate } {
  const middle = figure(mean)
  if (middle === undefined) return {}
  if (low === undefined || high === undefined)
    return { [name]: { mean: middle, n } } as { [key in Name]: Estimate }
  const [one, other] = [figure(low), figure(high)]
  const falls = other !== undefined && other < middle
  const [least, most] = falls ? [other, one] : [one, other]
  const ends = { ...(least !== undefined && { low: least }), ...(most !== undefined && { high: most }) }
  return { [name]: { mean: middle, ...ends, n } } as { [key in Name]: Estimate }
}
