import { shown } from '../../sim/study/designs/verdict.ts'
import type { TriedChange } from '../../sim/study/payback/payback.ts'

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
