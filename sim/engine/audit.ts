import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import type { Run } from './run.ts'

const { BROKEN, GOOD, LOST, LOST_STAY_SUM, REJECTED, STATES, STAY_SUM } = Books

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
  if (channels.some(channel => channel.direct && channel.waiting > 0))
    faults.push('a wafer waits between two tools where there is no place')
  if (littleGap > LITTLE_TOLERANCE)
    faults.push(`wafers x time and summed stays differ by ${littleGap} of their size`)
  return { wafersIn, ...counts, littleGap, faults: [...faults, ...stateFaults(run)] }
}

/** Wafers that came in, and wafers x time in the line [ticks], block by block: small numbers keep their digits. */
function entered(run: Run): { wafersIn: number; area: number } {
  const length = run.blocks.fine
  let [wafersIn, gone, area] = [0, 0, 0]
  for (let row = 1; row <= run.blocks.fineCount; row++) {
    area += (wafersIn - gone) * length
    ;[wafersIn, gone] = [0, 0]
    for (const { meter, inputs, outputs } of run.works.stations) {
      const { flows } = meter.shape
      const counts = row * flows
      for (const door of entries(inputs, outputs)) {
        wafersIn += meter.countRows[counts + door]
        area += meter.areaRows[row * flows + door]
      }
      gone += meter.countRows[counts + flows - 1]
      area -= meter.areaRows[row * flows + flows - 1]
    }
  }
  return { wafersIn, area }
}

/** Flows through which wafers enter the line: takes from outside, puts of a feed (which counts none that it puts outside). */
function entries(inputs: readonly Channel[], outputs: readonly Channel[]): number[] {
  return inputs.length === 0
    ? outputs.map((_, flow) => flow)
    : inputs.flatMap((input, flow) => (input.outside ? [flow] : []))
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
