import { quantity } from '../base/quantity.ts'
import { cellWatts } from '../money/watts.ts'
import { timeBetween } from './availability.ts'
import { flowOfFeed, onPaper } from './capacity.ts'
import { allItems } from './items.ts'
import { pacesOf } from './pace.ts'
import type { Site } from './site.ts'
import type { Line, Money, Step, Stop } from './types.ts'

/** What a good cell brings and takes on paper, in the currency of the scenario. */
export interface CellMoney {
  /** Its price, at the mean efficiency of the wafers. */
  readonly earns: number
  /**
   * The wafer, what steps add to it, and the parts of stops that come with the work, for each cell that ends as
   * a good one: what went into wafers that are lost and what is done again is in it, dummy wafers and
   * parts of stops by the calendar, which more output costs no more of, are not.
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
    costs: (money.wafer + added + partsPerWafer(line, visits)) / good,
  }
}

/** Parts and materials of a stop, each time that it comes to a tool. */
export function partsOf(money: Money | undefined, step: string, stop: string): number {
  const { stops = {} } = money ?? {}
  return Object.hasOwn(stops, step) && Object.hasOwn(stops[step], stop) ? stops[step][stop] : 0
}

/** What `CellMoney.costs` is of, in words. */
export function whatItTakes({ stops }: Money): string {
  return stops === undefined ? 'its wafer and materials' : 'its wafer, materials and parts of stops'
}

/** Parts of stops that come with the work, for each wafer that is fed. @param visits starts of each step for each of them */
function partsPerWafer(given: Line, visits: ReadonlyMap<string, number>): number {
  const { money } = given
  if (money?.stops === undefined) return 0
  const { line, site } = onPaper(given)
  const steps = new Map(allItems(line.route).flatMap(item => ('step' in item ? [[item.step, item]] : [])))
  return [...steps.values()].reduce((sum, step) => {
    const each = (step.stops ?? []).reduce((all, stop) => {
      const parts = partsOf(money, step.step, stop.stop)
      return parts > 0 ? all + parts * stopsPerStart(step, stop, site) : all
    }, 0)
    return sum + each * (visits.get(step.step) ?? 0)
  }, 0)
}

/** Stops for each wafer that a step starts; 0 for what does not come with the work. */
function stopsPerStart(step: Step, stop: Stop, site: Site): number {
  if (stop.at !== undefined || stop.counts === 'calendar time') return 0
  let [often, wafers] = [0, 0]
  for (const pace of pacesOf(step)) {
    often += pace.units / timeBetween(step, stop, pace, site)
    wafers += (pace.units * pace.wafers) / pace.cycle
  }
  return often / wafers
}
