import type { RunStudy } from '../../sim/study/run-study.ts'
import { binsCsv } from './bins.ts'
import { crewsCsv, hiddenDefectsCsv, timeLimitsCsv } from './people.ts'
import { placesCsv, wipCsv } from './places.ts'
import { statesCsv, stepsCsv } from './steps.ts'
import { stopsCsv } from './stops.ts'
import { summaryCsv } from './summary.ts'

/** A file to be written: its name and its text. */
export interface TextFile {
  readonly name: string
  readonly text: string
}

/** All tables of a run as text, one file each. */
export function runFiles(study: RunStudy): TextFile[] {
  const files = [
    { name: 'summary.csv', text: summaryCsv(study) },
    { name: 'steps.csv', text: stepsCsv(study) },
    { name: 'states.csv', text: statesCsv(study) },
    { name: 'stops.csv', text: stopsCsv(study) },
    { name: 'places.csv', text: placesCsv(study) },
    { name: 'wip.csv', text: wipCsv(study) },
  ]
  const { timeLimits, hiddenDefects } = study.losses
  // What the line does not have gets no file.
  if (study.crews.length > 0) files.push({ name: 'crews.csv', text: crewsCsv(study) })
  if (timeLimits.length > 0) files.push({ name: 'time-limits.csv', text: timeLimitsCsv(study) })
  if (hiddenDefects.length > 0) files.push({ name: 'hidden-defects.csv', text: hiddenDefectsCsv(study) })
  return study.bins.length === 0 ? files : [...files, { name: 'bins.csv', text: binsCsv(study) }]
}
