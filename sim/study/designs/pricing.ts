import { quantity } from '../../base/quantity.ts'
import { partsOf } from '../../line/cell-money.ts'
import { resolveRecipe } from '../../line/recipes.ts'
import type { Line, Money, Outlay, Route, ToolMoney } from '../../line/types.ts'
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
 * leave, so that filling a buffer is no cost of every year. Less parts and materials of stops.
 * Upkeep, power and wages are not in it: see `toolOutlay`.
 *
 * @param steps names of the steps, in the order of the plan
 */
export function marginPerYear(line: Line, money: Money, steps: readonly string[], output: Output): number {
  const { goodPerHour, lostPerHour } = output
  const price = cellPrice(line, money, output)
  const wafers = goodPerHour + lostPerHour.reduce((sum, lost) => sum + lost, 0)
  const cost =
    wafers * money.wafer +
    addedCost(line, money, steps, output) +
    dummyCost(line, money, steps, output) +
    stopCost(line, money, steps, output)
  return (goodPerHour * price - cost) * hoursPerYear(line)
}

/**
 * By how much the margin of a year can be off for each cell an hour by which its counts are: what a
 * cell brings, or what goes into a wafer through all steps where that is more.
 */
function stakePerYear(line: Line, money: Money, output: Pick<Output, 'efficiency'>): number {
  const added = Object.values(money.addedPerWafer ?? {}).reduce((sum, one) => sum + one, 0)
  return Math.max(cellPrice(line, money, output), money.wafer + added) * hoursPerYear(line)
}

/** A line with the names of its steps, in the order of the plan, and what it made in each replication. */
export interface Priced {
  readonly line: Line
  readonly steps: readonly string[]
  readonly outputs: readonly Output[]
}

/**
 * By how much a margin of a year, or the difference of two, can be off: by the cells, and by priced stops
 * that come as often in all replications, so that their scatter says nothing of one more or less of
 * them on each tool, as the edges of the window decide.
 *
 * @param finest by how much the count of cells can be off [cells/h]
 */
export function marginKnownTo(money: Money, designs: readonly [Priced, ...Priced[]], finest: number): number {
  const [{ line, outputs }] = designs
  const stake = stakePerYear(line, money, outputs[0])
  return designs.reduce((sum, design) => sum + partsAtEdges(money, design), finest * stake)
}

function partsAtEdges(money: Money, { line, steps, outputs }: Priced): number {
  if (money.stops === undefined) return 0
  const [{ hours, tools }] = outputs
  return stepsOf(line).reduce((sum, { step, stops = [] }) => {
    const index = steps.indexOf(step)
    const alike = stops.filter((_, s) => {
      const [one = 0, ...rest] = outputs.map(({ stopsPerHour }) => stopsPerHour[index]?.[s] ?? 0)
      return one > 0 && rest.every(other => other === one)
    })
    const each = alike.reduce((all, { stop }) => all + partsOf(money, step, stop), 0)
    return sum + (each * (tools[index] ?? 0) * hoursPerYear(line)) / hours
  }, 0)
}

/** What a good cell brings, at the efficiency measured. */
export function cellPrice(line: Line, money: Money, { efficiency = 0 }: Pick<Output, 'efficiency'>): number {
  const area = line.wafer === undefined ? 0 : quantity('area', line.wafer.area)
  return money.pricePerCell ?? (money.pricePerWatt ?? 0) * cellWatts(area, efficiency)
}

/** What the steps add to the wafers that leave the line, an hour. */
function addedCost(line: Line, money: Money, steps: readonly string[], output: Output): number {
  const onWay = mainSteps(line.route)
  return stepsOf(line).reduce((sum, { step }) => {
    const added = money.addedPerWafer?.[step] ?? 0
    if (added === 0) return sum
    // In lanes that differ nobody knows which way a wafer came: there each start counts.
    const starts = onWay.has(step)
      ? startsOfLeaving(line, steps, output, step)
      : (output.startsPerHour[steps.indexOf(step)] ?? 0)
    return sum + added * starts
  }, 0)
}

/**
 * How often a step that every wafer passes has started the wafers that leave the line, an hour: the
 * good ones and those lost from it on, and once more for each that comes back over it. A wafer that
 * is too late for a step goes before that step has started it.
 */
function startsOfLeaving(line: Line, steps: readonly string[], output: Output, step: string): number {
  const order = stepsOf(line)
  const places = new Map(order.map((one, place) => [one.step, place]))
  const own = places.get(step) ?? 0
  const before = (to: string | undefined) => to !== undefined && (places.get(to) ?? Infinity) <= own
  let starts = output.goodPerHour
  for (const { step: name, rework, timeLimits = [] } of order.slice(own)) {
    const index = steps.indexOf(name)
    starts += output.lostPerHour[index] ?? 0
    if (before(rework?.to)) starts += output.reworkedPerHour[index] ?? 0
    timeLimits.forEach(({ late }, limit) => {
      const { scrapped = 0, sentBack = 0 } = output.latePerHour[index]?.[limit] ?? {}
      if (name === step) starts -= scrapped
      else if (typeof late === 'object' && 'to' in late && before(late.to)) starts += sentBack
    })
  }
  return starts
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

/** Parts and materials of stops, an hour. */
function stopCost(line: Line, money: Money, steps: readonly string[], { stopsPerHour }: Output): number {
  if (money.stops === undefined) return 0
  return stepsOf(line).reduce((sum, { step, stops = [] }) => {
    const often = stopsPerHour[steps.indexOf(step)] ?? []
    return sum + stops.reduce((all, { stop }, s) => all + partsOf(money, step, stop) * (often[s] ?? 0), 0)
  }, 0)
}

/** Steps that every wafer passes: the lanes of a group count when they are equal. */
function mainSteps(route: Route): ReadonlySet<string> {
  const names = route.flatMap(item => {
    if ('step' in item) return [item.step]
    return 'group' in item && item.each ? [...mainSteps(item.each)] : []
  })
  return new Set(names)
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
