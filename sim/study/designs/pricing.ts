import { quantity } from '../../base/quantity.ts'
import { resolveRecipe } from '../../line/recipes.ts'
import type { Line, Money, Outlay, Route, Step, ToolMoney } from '../../line/types.ts'
import { hoursPerYear } from '../../line/year.ts'
import { cellWatts } from '../../money/watts.ts'
import { stepsOf } from './changes.ts'
import type { Output } from './course.ts'

/** Power made in a year [MW], at the efficiency measured; undefined when the line knows no watts. */
export function megawattPerYear(
  line: Line,
  output: Pick<Output, 'goodPerHour' | 'efficiency'>,
): number | undefined {
  if (!line.wafer) return undefined
  const watts = cellWatts(quantity('area', line.wafer.area), output.efficiency ?? 0)
  return (output.goodPerHour * watts * hoursPerYear(line)) / 1e6
}

/**
 * What the cells of a year bring, less what went into them and into the wafers lost on
 * the way: a wafer lost late costs more than one lost early. Counted by the wafers that
 * leave, so that filling a buffer is no cost of every year. Upkeep, power and wages are
 * not in it: see `toolOutlay`.
 *
 * @param steps names of the steps, in the order of the plan
 */
export function marginPerYear(line: Line, money: Money, steps: readonly string[], output: Output): number {
  const { goodPerHour, efficiency = 0, lostPerHour } = output
  const area = line.wafer === undefined ? 0 : quantity('area', line.wafer.area)
  const price = money.pricePerCell ?? (money.pricePerWatt ?? 0) * cellWatts(area, efficiency)
  const wafers = goodPerHour + lostPerHour.reduce((sum, lost) => sum + lost, 0)
  const cost =
    wafers * money.wafer + addedCost(line, money, steps, output) + dummyCost(line, money, steps, output)
  return (goodPerHour * price - cost) * hoursPerYear(line)
}

/** What the steps add to the wafers that leave the line, an hour. */
function addedCost({ route }: Line, money: Money, steps: readonly string[], output: Output): number {
  const { goodPerHour, startsPerHour, lostPerHour, reworkedPerHour } = output
  const onWay = mainSteps(route)
  const order = [...onWay.keys()]
  const at = (table: readonly number[], step: string) => table[steps.indexOf(step)] ?? 0
  return steps.reduce((sum, step) => {
    const added = money.addedPerWafer?.[step] ?? 0
    if (added === 0) return sum
    const place = order.indexOf(step)
    // In lanes that differ nobody knows which way a wafer came: there each start counts.
    if (place < 0) return sum + added * at(startsPerHour, step)
    const lost = order.slice(place).reduce((all, later) => all + at(lostPerHour, later), 0)
    const again = order
      .slice(place)
      .filter(
        later => order.indexOf(onWay.get(later)?.rework?.to ?? later) <= place && onWay.get(later)?.rework,
      )
      .reduce((all, later) => all + at(reworkedPerHour, later), 0)
    return sum + added * (goodPerHour + lost + again)
  }, 0)
}

/** Dummy wafers worn out, an hour. */
function dummyCost(line: Line, money: Money, steps: readonly string[], { dummiesPerHour }: Output): number {
  return stepsOf(line).reduce((sum, step) => {
    const price = money.dummies?.[step.step] ?? 0
    const runs = resolveRecipe(step).batch?.dummies?.runs
    if (price === 0 || runs === undefined) return sum
    return sum + (price * (dummiesPerHour[steps.indexOf(step.step)] ?? 0)) / runs
  }, 0)
}

/** Steps that every wafer passes, in order: the lanes of a group count when they are equal. */
function mainSteps(route: Route): ReadonlyMap<string, Step> {
  const steps = new Map<string, Step>()
  for (const item of route) {
    if ('step' in item) steps.set(item.step, item)
    else if ('group' in item && item.each)
      for (const [name, step] of mainSteps(item.each)) steps.set(name, step)
  }
  return steps
}

/** Upkeep and power of one tool a year. */
export function runningCost(line: Line, money: Money, tool: ToolMoney): number {
  const upkeep = tool.upkeep === undefined ? 0 : quantity('share', tool.upkeep) * tool.price
  return upkeep + (tool.kilowatts ?? 0) * (money.perKilowattHour ?? 0) * hoursPerYear(line)
}

/** Price and start-up of one tool, and what it costs a year. */
export function toolOutlay(line: Line, money: Money, step: string): Outlay | undefined {
  const tool = money.tools?.[step]
  if (!tool) return undefined
  return { investment: tool.price + (tool.installation ?? 0), perYear: runningCost(line, money, tool) }
}

/** Two outlays together; undefined when one is not known. */
export function together(one: Outlay | undefined, other: Outlay | undefined): Outlay | undefined {
  if (!one || !other) return undefined
  return {
    investment: one.investment + other.investment,
    perYear: (one.perYear ?? 0) + (other.perYear ?? 0),
  }
}

/** So many of the same. */
export function times(outlay: Outlay | undefined, count: number): Outlay | undefined {
  return outlay && { investment: outlay.investment * count, perYear: (outlay.perYear ?? 0) * count }
}
