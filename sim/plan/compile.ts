import { quantity } from '../base/quantity.ts'
import type { Rate } from '../base/units.ts'
import { type Law, mean } from '../chance/law.ts'
import { outlineOf } from '../line/outline.ts'
import { patternOf } from '../line/pattern.ts'
import { resolvedLine } from '../line/recipes.ts'
import type { Item, Line } from '../line/types.ts'
import { binsPlan } from './bins-plan.ts'
import { countLaw, timeLaw } from './laws.ts'
import { shutHours } from './people.ts'
import { type FeedPlan, type Plan, type StationPlan, TICKS_PER_SECOND } from './plan.ts'
import { RouteCompiler } from './route.ts'
import { allSteps } from './route-items.ts'
import { marksWafers } from './treatment-plan.ts'
import { uniform } from './uniform.ts'

/**
 * Turns a valid line into its plan.
 *
 * @param line a line that `checkLine` has passed; anything else may throw
 */
export function compile(line: Line): Plan {
  const resolved = resolvedLine(line)
  const compiler = new RouteCompiler(resolved)
  const feed = feedPlan(line)
  if (feed) compiler.addFeed(feed)
  compiler.addRoute(resolved.route)
  const plan = compiler.result()
  return {
    line: line.line,
    ...plan,
    ...withLoadCaps(
      plan.stations.map(station => withCap(station, line, plan.steps)),
      plan.steps,
      resolved,
    ),
    marks: allSteps(resolved.route).some(marksWafers),
    alike: patternOf(line, outlineOf(line.route))?.repeats,
    ...waferPlan(line),
  }
}

/** Wafers come by a schedule, or through a gate that can be shut; undefined: as fast as the first step takes them. */
function feedPlan(line: Line): Omit<FeedPlan, Apart> | undefined {
  const { feed = 'as fast as taken', cap, calendar } = line
  const shut = calendar?.runDown === undefined ? [] : shutHours(calendar)
  if (feed === 'as fast as taken') {
    // Before a store nobody takes: wafers come as long as it has room.
    if (!cap && shut.length === 0 && !isStore(line.route[0])) return undefined
    return { carrier: countLaw(1), turnsAway: false, wafers: Infinity, shut }
  }
  const carrier = countLaw(feed.carrier ?? 1)
  return {
    every: feed.every ? timeLaw(feed.every) : paceLaw(feed.rate as Rate, carrier),
    carrier,
    turnsAway: feed.whenFull === 'turn away',
    wafers: feed.wafers ?? Infinity,
    shut,
  }
}

function isStore(item: Item): boolean {
  return 'buffer' in item || 'conveyor' in item
}

type Apart = 'kind' | 'name' | 'step' | 'place' | 'inputs' | 'outputs'

function withCap(station: StationPlan, { cap }: Line, steps: readonly string[]): StationPlan {
  if (station.kind !== 'feed' || !cap) return station
  const until = cap.until === undefined ? -1 : steps.indexOf(cap.until)
  return { ...station, cap: { wafers: cap.wafers, until } }
}

/** Every station of a step with a cap counts for itself, in a column of its own. */
function withLoadCaps(
  stations: readonly StationPlan[],
  steps: readonly string[],
  { route }: Line,
): Pick<Plan, 'stations' | 'caps'> {
  const caps = new Map(allSteps(route).map(({ step, batch }) => [steps.indexOf(step), batch?.cap]))
  let column = 0
  const capped = stations.map(station => {
    const cap = station.kind === 'batch' ? caps.get(station.step) : undefined
    if (station.kind !== 'batch' || !cap) return station
    return { ...station, cap: { wafers: cap.wafers, until: steps.indexOf(cap.until), column: column++ } }
  })
  return { stations: capped.map(uniform), caps: column }
}

/** Evenly spaced carriers that bring so many wafers. */
function paceLaw(rate: Rate, carrier: Law): Law {
  return { kind: 'fixed', value: (mean(carrier) / quantity('rate', rate)) * TICKS_PER_SECOND }
}

function waferPlan(line: Line): Pick<Plan, 'efficiency' | 'bins' | 'area'> {
  const { wafer, bins } = line
  if (!wafer) return {}
  const { mean, sd, lot } = wafer.efficiency
  const efficiency = {
    mean: quantity('share', mean),
    sd: sd === undefined ? 0 : quantity('share', sd),
    lotWafers: lot?.wafers ?? 0,
    lotSd: lot ? quantity('share', lot.sd) : 0,
  }
  const area = quantity('area', wafer.area)
  return { efficiency, area, ...(bins && { bins: binsPlan(bins) }) }
}
