import type { BinFigures, RunStudy } from '../../sim/study/run-study.ts'
import { type Column, column, csvText, estimateColumns } from './columns.ts'

/** What one row is of: a bin, or the cells of one colour in it. */
interface Sorted extends Omit<BinFigures, 'colours'> {
  readonly colour?: string
}

const COLUMNS: readonly Column<Sorted>[] = [
  column('bin', row => row.bin),
  column('colour', row => row.colour),
  column('from efficiency [fraction]', row => row.from),
  column('to efficiency [fraction]', row => row.to),
  ...estimateColumns<Sorted>('share of cells', 'fraction', row => row.share),
]

/** One row per efficiency bin, or per bin and colour where colours are sorted; bin 0 is the box below the lowest. */
export function binsCsv(study: RunStudy): string {
  const rows = study.bins.flatMap(({ colours, ...bin }): readonly Sorted[] =>
    colours ? colours.map(({ colour, share }) => ({ ...bin, colour, share })) : [bin],
  )
  return csvText(COLUMNS, rows)
}
