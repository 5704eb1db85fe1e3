import { ActivePeriods, type ActiveShares } from '../engine/active.ts'
import type { Blocks } from '../engine/blocks.ts'
import type { Run } from '../engine/run.ts'
import { ToolStation } from '../engine/tool-station.ts'
import { type Plan, TICKS_PER_DAY } from '../plan/plan.ts'

/**
 * Which step was the momentary constraint, by coarse block: ticks of each step, and how
 * often it went from one step to another.
 */
export type ActiveRows = ActiveShares

/** Starts to record active periods; to be called before the run does anything. */
export function recordActive(run: Run): ActivePeriods {
  const record = new ActivePeriods()
  for (const station of run.works.stations) if (station instanceof ToolStation) station.recordActive(record)
  return record
}

/** The record of a finished run, folded to steps and coarse blocks. */
export function activeRows(plan: Plan, run: Run, record: ActivePeriods): ActiveRows {
  const owners = run.works.stations.flatMap((station, s) =>
    station instanceof ToolStation ? Array<number>(station.tools).fill(plan.stations[s].step) : [],
  )
  const { coarse, coarseCount } = run.blocks
  return record.shares(
    owners,
    Array.from({ length: coarseCount + 1 }, (_, b) => b * coarse),
  )
}

/** The same over the window from coarse block `cut` to the end: share of time per step (adds up to at most 1), shifts a day. */
export interface ActiveWindow {
  readonly shares: readonly number[]
  readonly shiftsPerDay: number
}

export function activeWindow(
  { ticks, shifts, owners }: ActiveRows,
  { coarse, horizon }: Blocks,
  cut: number,
): ActiveWindow {
  const sum = Array<number>(owners).fill(0)
  let count = 0
  for (let block = cut; block < shifts.length; block++) {
    count += shifts[block]
    for (let owner = 0; owner < owners; owner++) sum[owner] += ticks[block * owners + owner]
  }
  const span = horizon - cut * coarse
  return { shares: sum.map(one => one / span), shiftsPerDay: count / (span / TICKS_PER_DAY) }
}
