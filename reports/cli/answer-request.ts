import type { Options } from 'yargs'
import type { RunDefaults } from '../../sim/line/types.ts'
import type { DesignOptions } from '../../sim/study/designs/designs.ts'
import type { Arguments } from './arguments.ts'
import {
  DAYS_OPTION,
  readStudyRequest,
  STUDY_OPTIONS,
  type StudyRequest,
  studyOptions,
} from './study-request.ts'
import type { Surroundings } from './surroundings.ts'
import { programVersion } from './version.ts'

/** Options of every command that studies designs. */
export const ANSWER_OPTIONS = {
  ...DAYS_OPTION,
  replications: { type: 'string', describe: 'Replications of each design (default: the scenario, else 10)' },
  ...STUDY_OPTIONS,
  json: { type: 'boolean', describe: 'Print one JSON document instead of the answer in words' },
} as const satisfies Record<string, Options>

export const VARIANT_OPTION = {
  variant: { type: 'string', describe: 'Start from this variant of the line' },
} as const satisfies Record<string, Options>

/** A checked command line of a study of designs; what is undefined was not given. */
export interface AnswerRequest extends StudyRequest {
  readonly output: 'words' | 'document'
}

/** A difference needs two replications to have an interval. */
const LEAST_REPLICATIONS = 2

/** Reads the options that all studies of designs share. Throws a `Failure` for wrong usage. */
export function readAnswerRequest(surroundings: Surroundings, given: Arguments): AnswerRequest {
  return {
    ...readStudyRequest(surroundings, given, LEAST_REPLICATIONS),
    output: given.json === true ? 'document' : 'words',
  }
}

/** How to run the designs: the command line first, then the scenario, then the program's own defaults. */
export function designOptions(request: AnswerRequest, defaults: RunDefaults = {}): DesignOptions {
  return studyOptions(request, defaults, LEAST_REPLICATIONS, programVersion())
}
