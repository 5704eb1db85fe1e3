import type { PlaceFigures, RunStudy } from '../../sim/study/run-study.ts'
import { type Column, column, csvText, estimateColumns } from './columns.ts'

const COLUMNS: readonly Column<PlaceFigures>[] = [
  column('place', place => place.name),
  column('kind', place => place.kind),
  column('capacity [wafers]', place => place.capacity),
  ...estimateColumns<PlaceFigures>('WIP', 'wafers', place => place.wip),
  ...estimateColumns<PlaceFigures>('stay', 'h', place => place.stayHours),
  ...estimateColumns<PlaceFigures>('cleaned', 'carriers/day', place => place.wear?.cleanedPerDay),
  ...estimateColumns<PlaceFigures>('replaced', 'carriers/day', place => place.wear?.replacedPerDay),
]

/** One row per place where wafers are; the capacity is empty when unlimited. */
export function placesCsv(study: RunStudy): string {
  return csvText(COLUMNS, study.places)
}

/** Output and wafers over time, mean over replications, one column per place. */
export function wipCsv(study: RunStudy): string {
  const { hours, goodPerHour, wip, placeWip } = study.series
  const columns: Column<number>[] = [
    column('end of interval [h]', index => hours[index]),
    column('good output [cells/h]', index => goodPerHour[index]),
    column('in the line [wafers]', index => wip[index]),
    ...study.places.map((place, at) =>
      column(`${place.name} [wafers]`, (index: number) => placeWip[at]?.[index]),
    ),
  ]
  return csvText(
    columns,
    hours.map((_, index) => index),
  )
}
