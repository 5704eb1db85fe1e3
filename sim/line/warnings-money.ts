import { keyText, type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatNumber, quantity } from '../base/quantity.ts'
import { closedSpans, openShare, openTime } from './calendar.ts'
import { type CellMoney, cellMoney, whatItTakes } from './cell-money.ts'
import { WEEK } from './clock.ts'
import type { Crew, Line, Money } from './types.ts'
import { ALL_HOURS } from './year.ts'

/** Hours a year that are at most so much more than the open ones are taken for those. */
const CLOSE = 1.02
/** Hours a year below which nobody keeps a line: fewer are those of a week, or the days of a year. */
const FEWEST_HOURS = 1000
/** Wafer and materials are the most of what a cell costs: nobody is paid so many times as much for it. */
const MOST_EARNED = 10
/** An hour of work costs less than so many cells anywhere: 60 to 300 in countries of high wages, a month of it thousands. */
const CELLS_AN_HOUR = 1000
/** Interest above inflation, since amounts are at one price level: nobody counts with more, or with less and yet with some. */
const HIGHEST_RATE = 0.5
const LOWEST_RATE = 0.005

/** Money that is probably not meant as it stands. Amounts are judged by other amounts of the file, since any currency may be theirs. */
export function warningsOfMoney(line: Line): Problem[] {
  const { money } = line
  if (!money) return []
  const cell = cellMoney(line)
  return [
    ...(cell ? [...warnOfPrice(money, cell), ...warnOfWages(money, cell)] : []),
    ...warnOfHours(line, money),
    ...warnOfRate(money),
    ...warnOfPaidHours(line, money),
  ]
}

/** What a good cell earns against what goes into it. */
function warnOfPrice(money: Money, { earns, costs }: CellMoney): Problem[] {
  const { currency, pricePerWatt, pricePerCell } = money
  const path = ['money', pricePerCell === undefined ? 'pricePerWatt' : 'pricePerCell']
  const found =
    pricePerCell === undefined
      ? `${pricePerWatt}, so a good cell earns ${amount(earns, currency)}`
      : `${pricePerCell} ${currency} for a good cell`
  const cost = `${whatItTakes(money)} cost, ${amount(costs, currency)}`
  if (earns < costs)
    return [problemAt(path, found, `more than ${cost}`, 'every good cell more then loses money')]
  // Of wafers that somebody else pays nothing can be said.
  if (costs === 0 || earns <= MOST_EARNED * costs) return []
  const each = pricePerCell === undefined ? 'watt' : 'cell'
  const hint = `all amounts are in ${currency}, and the price is of one ${each}`
  return [problemAt(path, found, `at most some ${MOST_EARNED} times what ${cost}`, hint)]
}

/** An hour that costs as much as a month, measured in cells; by what they cost where the price is too low. */
function warnOfWages({ currency, wages = {} }: Money, { earns, costs }: CellMoney): Problem[] {
  const most = CELLS_AN_HOUR * Math.max(earns, costs)
  if (most === 0) return []
  return Object.entries(wages).flatMap(([name, wage]) => {
    if (wage <= most) return []
    const what = `what ${CELLS_AN_HOUR} good cells ${earns >= costs ? 'earn' : 'cost'}`
    const expected = `at most ${what}, ${amount(most, currency)}`
    const hint = 'wages are those of one head for one hour'
    return [problemAt(['money', 'wages', { name }], formatNumber(wage), expected, hint)]
  })
}

/** Hours a year that are about those in which the calendar is open: it has been asked already. Or too few for a year. */
function warnOfHours({ calendar }: Line, { hoursPerYear: given }: Money): Problem[] {
  if (given === undefined) return []
  const path = ['money', 'hoursPerYear']
  const open = openShare(calendar) * ALL_HOURS
  if (closedSpans(calendar).length > 0 && given <= open * CLOSE) {
    const expected = `well above the ${formatNumber(Math.round(open))} h in which the line is open, up to ${formatNumber(ALL_HOURS)}`
    const hint = 'all rates are means over closed hours too, which would be left out twice'
    return [problemAt(path, formatNumber(given), expected, hint)]
  }
  if (given >= FEWEST_HOURS) return []
  const hint = `they are the hours of a whole year, ${formatNumber(ALL_HOURS)} without an end of work`
  return [problemAt(path, formatNumber(given), `at least ${FEWEST_HOURS}`, hint)]
}

function warnOfRate({ discountRate }: Money): Problem[] {
  if (discountRate === undefined) return []
  const path = ['money', 'discountRate']
  const rate = quantity('share', discountRate)
  if (rate > HIGHEST_RATE) {
    const hint = 'it is the interest of one year, above what prices rise: amounts are at one price level'
    return [problemAt(path, quoted(discountRate), 'at most 50 %', hint)]
  }
  if (rate === 0 || rate >= LOWEST_RATE) return []
  const hint = 'eight per cent a year are "8 %", not "0.08 %"'
  return [problemAt(path, quoted(discountRate), 'at least 0.5 %, or 0 % for none', hint)]
}

/** Heads that are there always are paid always, though nobody calls them while the line is closed. */
function warnOfPaidHours({ calendar, crews = {} }: Line, { wages = {} }: Money): Problem[] {
  const closed = (WEEK - openTime(calendar)) / 3600
  if (!calendar || closed === 0) return []
  const shifts = Object.keys(calendar.shifts).map(keyText)
  return Object.entries(crews).flatMap(([name, { heads }]: [string, Crew]) => {
    if (typeof heads !== 'number' || heads === 0 || !((wages[name] ?? 0) > 0)) return []
    const byShift = shifts.map(shift => `${shift}: ${heads}`).join(', ')
    const expected = `heads by shift, which are there only then: { ${byShift} }`
    const hint = `they are paid in the ${formatNumber(closed)} h of the week too in which the line is closed`
    return [problemAt(['crews', { name }, 'heads'], `${heads} at all hours`, expected, hint)]
  })
}

/** An amount with its currency, to three digits: `0.352 EUR`. */
function amount(value: number, currency: string): string {
  return `${formatNumber(Number(value.toPrecision(3)))} ${currency}`
}
