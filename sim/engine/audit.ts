import { BROKEN, GOOD, LOST, LOST_STAY_SUM, REJECTED, STATES, STAY_SUM } from './meter.ts'
import type { Run } from './run.ts'

/** The books of one replication closed, over the whole run. */
export interface Audit {
  readonly wafersIn: number
  readonly good: number
  readonly broken: number
  readonly rejected: number
  readonly lost: number
  readonly inside: number
  /** Relative gap between wafers x time, summed over places, and the summed stays of the wafers (Little's law). */
  readonly littleGap: number
  readonly faults: readonly string[]
}

/** Little's law holds within the rounding of long sums. */
const LITTLE_TOLERANCE = 1e-9

/** Checks a finished run: conservation to the wafer, state times, Little's law. */
export function audit(run: Run): Audit {
  const { stations, channels, wafers } = run.works
  const sum = (column: number) => stations.reduce((total, { meter }) => total + meter.counter[column], 0)
  const rows = [
    ...stations.flatMap(station => station.inside()),
    ...channels.flatMap(channel => channel.inside()),
  ]
  const { wafersIn, area } = entered(run)
  const counts = {
    good: sum(GOOD),
    broken: sum(BROKEN),
    rejected: sum(REJECTED),
    lost: sum(LOST),
    inside: rows.length,
  }
  const accounted = counts.good + counts.broken + counts.rejected + counts.lost + counts.inside
  const insideStay = rows.reduce((total, row) => total + run.blocks.horizon - wafers.birth[row], 0)
  const stays = sum(STAY_SUM) + sum(LOST_STAY_SUM) + insideStay
  const littleGap = area === stays ? 0 : Math.abs(area - stays) / Math.max(area, stays)
  const faults: string[] = []
  if (accounted !== wafersIn) faults.push(`${wafersIn} wafers came in, ${accounted} are accounted for`)
  if (new Set(rows).size !== rows.length) faults.push('a wafer is in two places')
  if (littleGap > LITTLE_TOLERANCE)
    faults.push(`wafers x time and summed stays differ by ${littleGap} of their size`)
  return { wafersIn, ...counts, littleGap, faults: [...faults, ...stateFaults(run)] }
}

/** Wafers that came in, and wafers x time summed over stations and channels [ticks]. */
function entered(run: Run): { wafersIn: number; area: number } {
  const { stations } = run.works
  let wafersIn = 0
  let area = 0
  for (const { meter, inputs, outputs } of stations) {
    const last = meter.countRows.length - meter.shape.flows
    const lastArea = meter.areaRows.length - meter.shape.flows
    const feed = inputs.length === 0
    inputs.forEach((input, f) => {
      if (input.endless) wafersIn += meter.countRows[last + f]
      // A channel holds from its put to its take: the take ends the stay there and begins one inside.
      if (input.endless) area += meter.areaRows[lastArea + f]
    })
    if (feed)
      outputs.forEach((_, f) => {
        wafersIn += meter.countRows[last + f]
        area += meter.areaRows[lastArea + f]
      })
    area -= meter.areaRows[lastArea + inputs.length + outputs.length]
  }
  return { wafersIn, area }
}

/** The states of every tool must add up to the run, to the tick. */
function stateFaults(run: Run): string[] {
  return run.works.stations.flatMap(({ meter, name }) =>
    Array.from({ length: meter.shape.tools }, (_, tool) => {
      const total = meter.state.subarray(tool * STATES, (tool + 1) * STATES).reduce((a, b) => a + b, 0)
      return total === run.blocks.horizon
        ? ''
        : `the states of ${name}, tool ${tool + 1}, add up to ${total} of ${run.blocks.horizon} ticks`
    }).filter(text => text !== ''),
  )
}
