import { quantity } from '../../base/quantity.ts'
import { headsOnDuty } from '../../line/calendar.ts'
import { copiesOf } from '../../line/items.ts'
import type { Line, Money, Outlay } from '../../line/types.ts'
import { hoursPerYear } from '../../line/year.ts'
import { annuityFactor } from '../../money/cash-flow.ts'
import { buffersOf, carriersOf, stepsOf, toolsOf } from './changes.ts'
import { toolOutlay } from './pricing.ts'

/** Everything of a line that is bought or paid by number: what it is, how many, what one costs. */
interface Priced {
  readonly what: string
  readonly count: number
  readonly each: Outlay | undefined
}

/**
 * What it costs to go from one line to another that has other numbers of tools, lanes,
 * places, carriers, vehicles and heads; undefined when something is not priced that their numbers differ in.
 * An investment below zero is what is saved.
 */
export function outlayBetween(before: Line, after: Line, money: Money): Outlay | undefined {
  let investment = 0
  let perYear = 0
  for (const { count, each } of partsBetween(before, after, money)) {
    if (!each) return undefined
    investment += count * each.investment
    perYear += count * (each.perYear ?? 0)
  }
  return { investment, perYear }
}

/** What the numbers of two lines differ in, and by how many. */
function partsBetween(before: Line, after: Line, money: Money): Priced[] {
  const old = new Map(pricedOf(before, money).map(({ what, count }) => [what, count]))
  return pricedOf(after, money)
    .map(part => ({ ...part, count: part.count - (old.get(part.what) ?? 0) }))
    .filter(({ count }) => count !== 0)
}

/** Cost of all tools, places, carriers, vehicles and heads of a line, and what has no price. */
export interface TotalCost {
  readonly investment: number
  readonly perYear: number
  /** Investment, and the present value of the yearly cost over the years of `money`. */
  readonly wholeLife: number
  /** Floor of all tools [m2]. */
  readonly floor: number
}

export function totalCost(line: Line, money: Money): TotalCost {
  const parts = pricedOf(line, money)
  const investment = parts.reduce((sum, { count, each }) => sum + count * (each?.investment ?? 0), 0)
  const perYear = parts.reduce((sum, { count, each }) => sum + count * (each?.perYear ?? 0), 0)
  const { discountRate, years = 0 } = money
  const rate = discountRate === undefined ? 0 : quantity('share', discountRate)
  return {
    investment,
    perYear,
    wholeLife: investment + perYear * annuityFactor(rate, years),
    floor: floorOf(line, money),
  }
}

/** What has no price of that in which the numbers of two lines differ. */
export function unpricedBetween(before: Line, after: Line, money: Money): string[] {
  return partsBetween(before, after, money).flatMap(({ what, each }) => (each ? [] : [what]))
}

/** What is in a line without a price: no cost counts it. */
export function unpricedParts(line: Line, money: Money): string[] {
  return pricedOf(line, money).flatMap(({ what, count, each }) => (each || count === 0 ? [] : [what]))
}

/** Steps whose tools have no floor area. */
export function stepsWithoutArea(line: Line, money: Money): string[] {
  return stepsOf(line).flatMap(({ step }) => (money.tools?.[step]?.floorArea === undefined ? [step] : []))
}

function floorOf(line: Line, money: Money): number {
  const copies = copiesOf(line.route)
  return stepsOf(line).reduce((sum, step) => {
    const area = money.tools?.[step.step]?.floorArea
    return (
      sum + (area === undefined ? 0 : quantity('area', area) * toolsOf(step) * (copies.get(step.step) ?? 0))
    )
  }, 0)
}

function pricedOf(line: Line, money: Money): Priced[] {
  const copies = copiesOf(line.route)
  const of = (name: string) => copies.get(name) ?? 0
  const bought = (price: number | undefined): Outlay | undefined =>
    price === undefined ? undefined : { investment: price }
  const head = (crew: string): Outlay | undefined => {
    const wage = money.wages?.[crew]
    return wage === undefined ? undefined : { investment: 0, perYear: wage * hoursPerYear(line) }
  }
  return [
    ...stepsOf(line).map(step => ({
      what: `step ${step.step}`,
      count: toolsOf(step) * of(step.step),
      each: toolOutlay(line, money, step.step),
    })),
    ...buffersOf(line).map(({ buffer, capacity }) => ({
      what: `buffer ${buffer}`,
      count: capacity * of(buffer),
      each: bought(money.places?.[buffer]),
    })),
    ...carriersOf(line).map(({ carriers, number }) => ({
      what: `carriers ${carriers}`,
      count: number * of(carriers),
      each: bought(money.carriers?.[carriers]),
    })),
    ...Object.entries(line.fleets ?? {}).map(([name, { number }]) => ({
      what: `fleet ${name}`,
      count: number,
      each: bought(money.vehicles?.[name]),
    })),
    ...Object.entries(line.crews ?? {}).map(([name, crew]) => ({
      what: `crew ${name}`,
      count: headsOnDuty(crew, line.calendar),
      each: head(name),
    })),
  ]
}
