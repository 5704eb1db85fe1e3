import { onceEach } from '../base/once.ts'
import { quantity } from '../base/quantity.ts'
import { openShare } from './calendar.ts'
import { laneRoutes } from './items.ts'
import { meanCount, meanTime } from './means.ts'
import { workingWay } from './pace.ts'
import { type Flow, flowOf, takesTurns } from './passage.ts'
import { availability, grossRate, netRate, setUpShare } from './rates.ts'
import { resolvedLine } from './recipes.ts'
import { type Site, siteOf } from './site.ts'
import type { Line, Route, Step } from './types.ts'

/**
 * The capacity of a step on paper: from mean values, without the waiting of tools on
 * one another, for a person or for carriers. Lanes of a group are folded into one row.
 * Rates of tools in wafers per hour in which the line is open, good cells over all hours, as
 * those of a run and the target are; steps run by the recipes they pick.
 */
export interface CapacityRow {
  readonly step: string
  readonly kind: 'single' | 'belt' | 'batch'
  /** Tools in all lanes. */
  readonly tools: number
  /**
   * Nameplate rate of one tool, mean where tools differ: 1 / cycle; belt: lanes / spacing;
   * batch: tubes x load / (time + loading + unloading), at most load / (loading + unloading)
   * and boats x load / (time + loading + unloading + cooling and what else a boat is away for).
   */
  readonly toolPerHour: number
  /** Share of the open time up, of a tool that never waits: stops with the way of who serves them, events, warming up after closed hours. */
  readonly availability: number
  /** All tools together, net of stops. */
  readonly netPerHour: number
  /** Share of the wafers that come here that pass in the end; rework is no loss. */
  readonly yield: number
  /** Starts here per wafer fed to the line: yields before it, and rework. */
  readonly startsPerWafer: number
  /** Share of all hours in which the line is open. */
  readonly openShare: number
  /** Good cells that the line would make if this step alone limited it, over all hours. */
  readonly goodPerHour: number
  /** No other step allows fewer good cells. */
  readonly lowest: boolean
  /** What the target of the line asks of the step; absent without a target. */
  readonly target?: CapacityNeed
}

export interface CapacityNeed {
  /** Starts per open hour that give the target of good cells over all hours. */
  readonly startsPerHour: number
  /** Those starts over the net rate: above 1 the step cannot make the target. */
  readonly load: number
  /** Tools that would be just enough, not rounded. */
  readonly tools: number
}

const HOUR = 3600

/** The paper capacity of each step, in the order of the route. */
export const capacityTable: (line: Line) => readonly CapacityRow[] = onceEach(tableOf)

function tableOf(given: Line): readonly CapacityRow[] {
  const { line, site, flowAt } = onPaper(given)
  const open = openShare(line.calendar)
  const steps = stepsOf(line.route, 1).map(({ step, lanes }) => {
    const net = netRate(step, site) * lanes
    const flow = flowWhere(flowAt, ({ visits }) => net / (visits.get(step.step) ?? 0))
    const row = rowOf(step, lanes, site, flow)
    return { row, good: (row.netPerHour / row.startsPerWafer) * flow.yield * open }
  })
  const least = Math.min(...steps.map(({ good }) => good))
  const target = line.target === undefined ? undefined : quantity('rate', line.target)
  const asked = target === undefined ? undefined : flowWhere(flowAt, flow => target / flow.yield / open)
  return steps.map(({ row, good }) => ({
    ...row,
    openShare: open,
    goodPerHour: good,
    lowest: good === least,
    ...(target !== undefined &&
      asked && { target: needOf(row, asked, (target * HOUR) / asked.yield / open) }),
  }))
}

/** How much the weakest step, or the feed, lets a line do on paper. */
export interface PaperUse {
  readonly table: readonly CapacityRow[]
  /** Good cells per second, over all hours. */
  readonly good: number
  /** How much of the open time each step is at work or down then. */
  readonly usage: ReadonlyMap<string, number>
}

export function paperUse(line: Line): PaperUse {
  const table = capacityTable(line)
  const good = Math.min(...table.map(row => row.goodPerHour / HOUR), feedRate(line) * lineYield(line))
  const fed = Math.min(
    ...table.map(({ netPerHour, startsPerWafer }) => netPerHour / startsPerWafer / HOUR),
    feedRate(line) / openShare(line.calendar),
  )
  const { visits } = flowFed(line, fed)
  const usage = table.map(
    ({ step, netPerHour }) =>
      [step, Math.min(1, (fed * HOUR * (visits.get(step) ?? 0)) / netPerHour)] as const,
  )
  return { table, good, usage: new Map(usage) }
}

/** What the wafers that come would make if no step held the line, on paper [cells/h over all hours]; undefined when they come as fast as they are taken. */
export function goodOfFeed(line: Line): number | undefined {
  const rate = feedRate(line)
  return Number.isFinite(rate) ? rate * lineYield(line) * HOUR : undefined
}

/** Share of the wafers fed to the line that leave it as good cells, on paper. */
export function lineYield(line: Line): number {
  return flowOfFeed(line).yield
}

/** What becomes of the wafers that the feed brings, on paper. */
export function flowOfFeed(line: Line): Flow {
  return flowFed(line, feedRate(line) / openShare(line.calendar))
}

/** Mean efficiency of the wafers that come to a step for the first time, on paper, by step, fraction. */
export function efficiencyAt(line: Line): ReadonlyMap<string, number> {
  return flowOfFeed(line).made
}

/** @param fed wafers fed while the line is open [wafers/s] */
function flowFed(line: Line, fed: number): Flow {
  return onPaper(line).flowAt(fed)
}

/** A line as it runs, by the recipes it picks, and what flows through it on paper. */
export const onPaper = onceEach((given: Line) => {
  const line = resolvedLine(given)
  const site = siteOf(line)
  return { line, site, flowAt: flowsOf(line, site) }
})

/** What becomes of the wafers when so many are fed to the line [wafers/s]; more than all lanes can take, and they are full. */
type FlowAt = (fed: number) => Flow

function flowsOf({ route, wafer }: Line, site: Site): FlowAt {
  const rates = new Map(
    stepsOf(route, 1).map(({ step, lanes }) => [step.step, netRate(step, site) * lanes] as const),
  )
  const setUp = new Map(stepsOf(route, 1).map(({ step }) => [step.step, setUpShare(step, site)] as const))
  const full = flowOf(route, wafer, rates, setUp)
  const turns = takesTurns(route)
  return fed => (turns && fed < Infinity ? flowOf(route, wafer, rates, setUp, fed) : full)
}

/** The flow with which as many wafers are fed as `limit` says of it [wafers/s]. */
function flowWhere(flowAt: FlowAt, limit: (flow: Flow) => number): Flow {
  let flow = flowAt(Infinity)
  let fed = limit(flow)
  // What lanes share changes yields, and those the limit, by little: a few rounds are more than enough.
  for (let round = 0; round < 4; round++) {
    flow = flowAt(fed)
    const next = limit(flow)
    if (Math.abs(next - fed) <= 1e-9 * fed) break
    fed = next
  }
  return flow
}

/** Wafers per second that the feed brings; Infinity without a limit. */
export function feedRate({ feed }: Line): number {
  if (feed === undefined || typeof feed === 'string') return Infinity
  const carrier = meanCount(feed.carrier ?? 1)
  if (feed.rate !== undefined) return quantity('rate', feed.rate)
  return carrier / meanTime(feed.every ?? '0 s')
}

type OwnColumns = Omit<CapacityRow, 'openShare' | 'goodPerHour' | 'lowest' | 'target'>

function rowOf(step: Step, lanes: number, site: Site, flow: Flow): OwnColumns {
  const { cycles, tools = cycles?.length ?? 1 } = step
  return {
    step: step.step,
    kind: workingWay(step),
    tools: tools * lanes,
    toolPerHour: (grossRate(step) / tools) * HOUR,
    availability: availability(step, site),
    netPerHour: netRate(step, site) * lanes * HOUR,
    yield: flow.stepYield.get(step.step) ?? 0,
    startsPerWafer: flow.visits.get(step.step) ?? 0,
  }
}

/** @param fedPerHour wafers fed in an open hour that give the target */
function needOf({ step, netPerHour, tools }: OwnColumns, { visits }: Flow, fedPerHour: number): CapacityNeed {
  const startsPerHour = fedPerHour * (visits.get(step) ?? 0)
  const load = startsPerHour / netPerHour
  return { startsPerHour, load, tools: load * tools }
}

/** Steps with the number of lanes that have them. */
function stepsOf(route: Route, lanes: number): { readonly step: Step; readonly lanes: number }[] {
  return route.flatMap(item => {
    if ('step' in item) return [{ step: item, lanes }]
    if (!('group' in item)) return []
    return laneRoutes(item).flatMap(lane => stepsOf(lane.route, lanes * lane.names.length))
  })
}
