import { cellMoney, whatItTakes } from '../../sim/line/cell-money.ts'
import type { Line } from '../../sim/line/types.ts'
import { shown } from '../../sim/study/designs/verdict.ts'
import type { TriedChange } from '../../sim/study/payback/payback.ts'
import { significant } from './format.ts'

/** What terminal and page say alike of the money of a change. */
type Told = Pick<
  TriedChange,
  'verdict' | 'gainPerHour' | 'cashPerYear' | 'worth' | 'paybackYears' | 'npv' | 'internalRate'
>

/**
 * Whether nothing is shown that could pay a change back: neither cells nor cash. Cash may be shown
 * without cells, such as wafers saved, or upkeep for nothing.
 */
export function nothingShown({ verdict, gainPerHour, cashPerYear }: Told): boolean {
  return (
    verdict !== 'shown to pay' &&
    [gainPerHour, cashPerYear].every(difference => shown(difference) === 'no difference shown')
  )
}

/**
 * A change with those figures of money alone that stand on something shown: years to pay back, rate
 * and worth would come from the mean of what may as well be nothing. A present value that is shown to
 * be a loss stays, since the verdict goes by it.
 */
export function moneyShown<Change extends Told>(change: Change): Change {
  if (!nothingShown(change)) return change
  const { worth: _worth, paybackYears: _years, internalRate: _rate, npv, ...rest } = change
  const kept = npv !== undefined && change.verdict === 'shown not to pay' ? { ...rest, npv } : rest
  return kept as Change
}

/** A good cell in money, on paper: what it earns against what goes into it. */
export interface CellWords {
  /** One sentence; none where nothing is known of it. */
  readonly sentences: readonly string[]
  /** Whether it costs more than it earns, so that more of them are no gain. */
  readonly loses: boolean
}

export function cellWords(line: Line): CellWords {
  const cell = cellMoney(line)
  if (cell === undefined || line.money === undefined) return { sentences: [], loses: false }
  const { currency, pricePerCell } = line.money
  const of = pricePerCell === undefined && line.wafer ? ` of ${line.wafer.efficiency.mean}` : ''
  const [earns, costs] = [cell.earns, cell.costs].map(amount => significant(amount, 3))
  const takes = whatItTakes(line.money)
  const start = `A good cell${of} earns ${earns} ${currency}`
  const loses = cell.earns < cell.costs
  const text = loses
    ? `${start}, less than ${takes} cost, ${costs}, lost wafers included: more output loses money.`
    : `${start}; ${takes} cost ${costs}, lost wafers included.`
  return { sentences: [text], loses }
}

/** Years to two digits. */
export function yearsText(years: number): string {
  const text = significant(years, 2)
  return `${text} ${Number(text) === 1 ? 'year' : 'years'}`
}
