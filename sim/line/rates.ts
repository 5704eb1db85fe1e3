import { quantity } from '../base/quantity.ts'
import { availabilityAt, coating, comesPerSecond } from './availability.ts'
import { meanTime } from './means.ts'
import { handling, pacesOf } from './pace.ts'
import type { Site } from './site.ts'
import type { Step, Stop } from './types.ts'

/**
 * What the boats of a step carry at most: each is with a load from loading on until it is
 * unloaded; then it cools, or is cleaned, or is broken and replaced [wafers/s].
 */
export function boatLimit({ batch, tools = 1 }: Step): number {
  if (!batch?.boats) return Infinity
  const { perTool, cooling = '0 s', cleaning, breakage } = batch.boats
  const broken = breakage ? quantity('share', breakage.share) : 0
  const cleaned = cleaning ? 1 / cleaning.every : 0
  const whole = cleaned * meanTime(cleaning?.lasts ?? '0 s') + (1 - cleaned) * meanTime(cooling)
  const away = broken * meanTime(breakage?.replacedAfter ?? '0 s') + (1 - broken) * (whole + coating(batch))
  return (tools * perTool * batch.load) / (meanTime(batch.time) + handling(batch) + away)
}

/** What the boats of a step would carry if they were never away: a load each, from loading on until it is unloaded [wafers/s]. */
function boatsAtWork({ batch, tools = 1 }: Step): number {
  if (!batch?.boats) return Infinity
  return (tools * batch.boats.perTool * batch.load) / (meanTime(batch.time) + handling(batch))
}

/** What the loaders of a step can bring in and out at most: one loader per tool [wafers/s]. */
export function loaderLimit({ batch, tools = 1 }: Step): number {
  return batch && handling(batch) > 0 ? (tools * batch.load) / handling(batch) : Infinity
}

/** Rate of a step of one lane, stops left out [wafers/s]. */
export function grossRate(step: Step): number {
  const units = pacesOf(step).reduce((sum, { units, wafers, cycle }) => sum + (units * wafers) / cycle, 0)
  return Math.min(units, loaderLimit(step), boatLimit(step))
}

/** Rate of a step of one lane net of its stops, while the line is open [wafers/s]. */
export function netRate(step: Step, site: Site): number {
  const units = pacesOf(step).reduce(
    (sum, pace) => sum + ((pace.units * pace.wafers) / pace.cycle) * availabilityAt(step, pace, site),
    0,
  )
  // What stops the whole tool stops its loader and the loads in its boats, which cool meanwhile.
  const up = site.upShare(step)
  return Math.min(units, loaderLimit(step) * up, boatLimit(step), boatsAtWork(step) * up)
}

/** Share of the open time in which the tools of a step are up, mean over their paces. */
export function availability(step: Step, site: Site): number {
  const paces = pacesOf(step)
  const units = paces.reduce((sum, pace) => sum + pace.units, 0)
  return paces.reduce((sum, pace) => sum + pace.units * availabilityAt(step, pace, site), 0) / units
}

/** Share of the wafers of a step that are set-up wafers, when its tools never wait: mean over its tools. */
export function setUpShare(step: Step, site: Site): number {
  const stops = (step.stops ?? []).filter(stop => setUpWafers(stop) > 0)
  if (stops.length === 0) return 0
  let [lost, all] = [0, 0]
  for (const pace of pacesOf(step)) {
    const up = availabilityAt(step, pace, site)
    all += ((pace.units * pace.wafers) / pace.cycle) * up
    for (const stop of stops)
      lost += pace.units * setUpWafers(stop) * comesPerSecond(step, stop, pace, up, site)
  }
  // What makes nothing else still has a yield, so that the shares of lanes can be told.
  return Math.min(1 - 1e-9, lost / all)
}

/** Mean number of set-up wafers after such a stop. */
function setUpWafers({ setUpWafers: given = 0 }: Stop): number {
  return typeof given === 'number' ? given : (given[0] + given[1]) / 2
}
