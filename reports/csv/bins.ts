import type { BinFigures, RunStudy } from '../../sim/study/run-study.ts'
import { type Column, column, csvText, estimateColumns } from './columns.ts'

const COLUMNS: readonly Column<BinFigures>[] = [
  column('bin', bin => bin.bin),
  column('from efficiency [fraction]', bin => bin.from),
  column('to efficiency [fraction]', bin => bin.to),
  ...estimateColumns<BinFigures>('share of cells', 'fraction', bin => bin.share),
]

/** One row per efficiency bin; bin 0 is the box below the lowest. */
export function binsCsv(study: RunStudy): string {
  return csvText(COLUMNS, study.bins)
}
