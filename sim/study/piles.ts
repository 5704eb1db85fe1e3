import { FINE_PER_COARSE } from '../engine/blocks.ts'
import type { Rows } from '../measure/rows.ts'
import { type Plan, TICKS_PER_HOUR } from '../plan/plan.ts'
import { type Estimate, estimate } from '../stats/estimate.ts'

/** Less than this share of the output is taken for wafers that come and go. */
const OF_OUTPUT = 0.02
/** What piles up does so in each of so many parts of the window: one long stop, or a load, comes and goes. */
const PARTS = 3

/**
 * Wafers an hour that pile up in all that lies behind a step, in any lane: by so many more are handed on than
 * leave it. Undefined where they do not pile up in every part of the window, or not by more than replications scatter.
 *
 * @param step index in the plan
 * @param cut first coarse block of the window
 * @param goodPerHour output, which the pile is measured by
 */
export function pilesUpBehind(
  plan: Plan,
  step: number,
  rows: readonly Rows[],
  cut: number,
  level: number,
  goodPerHour: number,
): Estimate | undefined {
  const places = placesBehind(plan, step)
  const { fine, fineCount } = rows[0].blocks
  const from = cut * FINE_PER_COARSE
  const edges = Array.from(
    { length: PARTS + 1 },
    (_, p) => from + Math.round((p * (fineCount - from)) / PARTS),
  )
  const perHour = (r: Rows, begin: number, end: number) => {
    const more = places.reduce((sum, p) => sum + r.places[p].level[end] - r.places[p].level[begin], 0)
    return (more * TICKS_PER_HOUR) / ((end - begin) * fine)
  }
  const least = rows.map(r => Math.min(...edges.slice(1).map((end, p) => perHour(r, edges[p], end))))
  const { mean, low = mean } = estimate(least, level)
  if (!(low > OF_OUTPUT * goodPerHour)) return undefined
  return estimate(
    rows.map(r => perHour(r, from, fineCount)),
    level,
  )
}

/** Places that wafers come to after a step, unless they are sent back. */
function placesBehind({ stations, channels }: Plan, step: number): number[] {
  const places = new Set<number>()
  const seen = new Set<number>()
  const follow = (position: number) => {
    for (const output of stations[position].outputs) {
      const { place, to } = channels[output]
      places.add(place)
      if (seen.has(to)) continue
      seen.add(to)
      places.add(stations[to].place)
      follow(to)
    }
  }
  stations.forEach((station, position) => {
    if (station.step === step) follow(position)
  })
  return [...places]
}
