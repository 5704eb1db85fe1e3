import type {
  CrewFigures,
  HiddenDefectFigures,
  RunStudy,
  TimeLimitFigures,
} from '../../sim/study/run-study.ts'
import { type Column, column, csvText, estimateColumns } from './columns.ts'

interface CrewInShift extends CrewFigures {
  readonly shift: string
  readonly heads: number
  readonly inShift: CrewFigures['utilisation']
}

const CREWS: readonly Column<CrewInShift>[] = [
  column('name', row => row.name),
  column('kind', row => row.kind),
  column('shift', row => row.shift),
  column('heads', row => row.heads),
  ...estimateColumns<CrewInShift>('utilisation in the shift', 'fraction', row => row.inShift),
  ...estimateColumns<CrewInShift>('utilisation', 'fraction', row => row.utilisation),
  ...estimateColumns<CrewInShift>('calls', '1/day', row => row.callsPerDay),
  ...estimateColumns<CrewInShift>('mean wait', 'min', row => row.waitMinutes),
  ...estimateColumns<CrewInShift>('95th percentile of the wait', 'min', row => row.waitMinutesP95),
]

/** One row per crew (or fleet) and shift. */
export function crewsCsv(study: RunStudy): string {
  const rows = study.crews.flatMap(crew =>
    crew.byShift.map(({ shift, heads, utilisation }) => ({ ...crew, shift, heads, inShift: utilisation })),
  )
  return csvText(CREWS, rows)
}

const LIMITS: readonly Column<TimeLimitFigures>[] = [
  column('step', row => row.step),
  column('after', row => row.after),
  column('limit [min]', row => row.limitMinutes),
  ...estimateColumns<TimeLimitFigures>('late', 'wafers/day', row => row.latePerDay),
  ...estimateColumns<TimeLimitFigures>('late', 'fraction', row => row.share),
  ...estimateColumns<TimeLimitFigures>('scrapped', 'wafers/day', row => row.scrappedPerDay),
  ...estimateColumns<TimeLimitFigures>('sent back', 'wafers/day', row => row.sentBackPerDay),
]

/** One row per time limit. */
export function timeLimitsCsv(study: RunStudy): string {
  return csvText(LIMITS, study.losses.timeLimits)
}

const DEFECTS: readonly Column<HiddenDefectFigures>[] = [
  column('made at', row => row.made),
  ...estimateColumns<HiddenDefectFigures>('rejected by tests', 'wafers/day', row => row.rejectedPerDay),
]

/** One row per step whose hidden defects tests have found. */
export function hiddenDefectsCsv(study: RunStudy): string {
  return csvText(DEFECTS, study.losses.hiddenDefects)
}
