import type { Estimate } from '../../sim/stats/estimate.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { type Column, column, csvText, meanOf } from './columns.ts'

interface Measure {
  readonly name: string
  readonly estimate: Estimate
  readonly unit: string
}

const COLUMNS: readonly Column<Measure>[] = [
  column('name', row => row.name),
  column('mean', row => meanOf(row.estimate)),
  column('low', row => row.estimate.low),
  column('high', row => row.estimate.high),
  column('n', row => row.estimate.n),
  column('unit', row => row.unit),
]

/** The figures of the whole line, one row each. */
export function summaryCsv(study: RunStudy): string {
  const { goodOutput, throughputHours } = study
  const measures: Measure[] = []
  const add = (name: string, estimate: Estimate | undefined, unit: string) => {
    if (estimate !== undefined) measures.push({ name, estimate, unit })
  }
  add('good output', goodOutput.perHour, 'cells/h')
  add('good output, power', goodOutput.megawattPerYear, 'MW/yr')
  add('share of target', goodOutput.shareOfTarget, 'fraction')
  add('efficiency of good cells', goodOutput.efficiency, 'fraction')
  add('wafers started', study.startedPerHour, 'wafers/h')
  add('turned away at the gate', study.turnedAwayPerHour, 'wafers/h')
  add('yield', study.yield, 'fraction')
  add('WIP', study.wip, 'wafers')
  add('throughput time, mean', throughputHours.mean, 'h')
  add('throughput time, median', throughputHours.median, 'h')
  add('throughput time, 95th percentile', throughputHours.p95, 'h')
  add('boxes swapped', study.boxes?.swapsPerDay, 'boxes/day')
  add('held by full boxes', study.boxes?.heldHoursPerDay, 'tool-h/day')
  return csvText(COLUMNS, measures)
}
