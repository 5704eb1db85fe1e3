import type { StudyCheck } from './check.ts'
import { STUDY_CONSTRAINT } from './study-constraint.ts'
import { STUDY_COVERAGE } from './study-coverage.ts'
import { STUDY_LOSSES } from './study-losses.ts'
import { STUDY_PAYBACK } from './study-payback.ts'
import { STUDY_SELECTION } from './study-selection.ts'

/** All checks of studies. */
export const STUDY_CHECKS: readonly StudyCheck[] = [
  ...STUDY_CONSTRAINT,
  ...STUDY_LOSSES,
  ...STUDY_PAYBACK,
  ...STUDY_COVERAGE,
  ...STUDY_SELECTION,
]
