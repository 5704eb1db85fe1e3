import type { RunStudy, StopFigures } from '../../sim/study/run-study.ts'
import { type Column, column, csvText, estimateColumns } from './columns.ts'

interface StopOfStep extends StopFigures {
  readonly step: string
}

const COLUMNS: readonly Column<StopOfStep>[] = [
  column('step', row => row.step),
  column('stop', row => row.stop),
  column('kind', row => row.kind),
  ...estimateColumns<StopOfStep>('stops', '1/day', row => row.perDay),
  ...estimateColumns<StopOfStep>('down', 'tool-hours/day', row => row.hoursPerDay),
  ...estimateColumns<StopOfStep>('of it waiting for people', 'tool-hours/day', row => row.waitHoursPerDay),
  ...estimateColumns<StopOfStep>('mean length', 'min', row => row.meanMinutes),
  column('longest [min]', row => row.longestMinutes),
  ...estimateColumns<StopOfStep>('wafers lost', 'wafers/day', row => row.lostPerDay),
]

/** One row per step and kind of stop, those included that never happened. */
export function stopsCsv(study: RunStudy): string {
  const rows = study.steps.flatMap(step => step.stops.map(stop => ({ step: step.name, ...stop })))
  return csvText(COLUMNS, rows)
}
