import { quantity } from '../base/quantity.ts'
import type { Rate } from '../base/units.ts'
import { type Law, mean } from '../chance/law.ts'
import type { Line } from '../line/types.ts'
import { countLaw, timeLaw } from './laws.ts'
import { type Plan, TICKS_PER_SECOND } from './plan.ts'
import { RouteCompiler } from './route.ts'
import { binsPlan } from './step-plan.ts'

/**
 * Turns a valid line into its plan.
 *
 * @param line a line that `checkLine` has passed; anything else may throw
 */
export function compile(line: Line): Plan {
  const compiler = new RouteCompiler(line)
  const feed = line.feed ?? 'as fast as taken'
  if (feed !== 'as fast as taken') {
    const carrier = countLaw(feed.carrier ?? 1)
    compiler.addFeed({
      every: feed.every ? timeLaw(feed.every) : paceLaw(feed.rate as Rate, carrier),
      carrier,
      turnsAway: feed.whenFull === 'turn away',
      wafers: feed.wafers ?? Infinity,
    })
  }
  compiler.addRoute(line.route)
  return { line: line.line, ...compiler.result(), ...waferPlan(line) }
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
