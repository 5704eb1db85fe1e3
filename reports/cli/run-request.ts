import type { Options } from 'yargs'
import type { RunDefaults } from '../../sim/line/types.ts'
import type { RunOptions } from '../../sim/study/options.ts'
import type { Arguments } from './arguments.ts'
import { wrongUsage } from './failure.ts'
import { type OptionText, share, word } from './option-values.ts'
import {
  DAYS_OPTION,
  readStudyRequest,
  STUDY_OPTIONS,
  type StudyRequest,
  studyOptions,
} from './study-request.ts'
import type { Surroundings } from './surroundings.ts'

/** Options of `run`. */
export const RUN_OPTIONS = {
  variant: { type: 'string', describe: 'Simulate this variant of the line' },
  ...DAYS_OPTION,
  replications: { type: 'string', describe: 'Independent replications (default: the scenario, else 10)' },
  precision: {
    type: 'string',
    describe: 'Add replications, up to 200, until the half-width of the good output is this small: "0.5 %"',
  },
  ...STUDY_OPTIONS,
  json: { type: 'boolean', describe: 'Print one JSON document instead of the summary' },
  audit: { type: 'boolean', describe: 'Print the audit: where every wafer went' },
} as const satisfies Record<string, Options>

/** A checked command line of `run`; what is undefined was not given. */
export interface RunRequest extends StudyRequest {
  readonly variant: string | undefined
  readonly output: 'summary' | 'document'
  readonly audit: 'shown' | 'not shown'
  readonly precision: number | undefined
}

/** Replications that `--precision` may go up to. */
const CAP = 200

/** Reads the options of `run`. Throws a `Failure` for wrong usage. */
export function readRunRequest(surroundings: Surroundings, given: Arguments): RunRequest {
  const text = (option: keyof typeof RUN_OPTIONS) => given[option] as OptionText
  const shared = readStudyRequest(surroundings, given, 1)
  const precision = share('precision', text('precision'), { least: 0, most: 1, example: '0.5 %' })
  if (precision !== undefined && shared.replications === 1) {
    throw wrongUsage(
      '--precision: found together with --replications 1; an interval needs at least 2 replications',
    )
  }
  return {
    ...shared,
    variant: word('variant', text('variant'), 'the name of a variant of the scenario'),
    output: given.json === true ? 'document' : 'summary',
    audit: given.audit === true ? 'shown' : 'not shown',
    precision,
  }
}

/** What to run: the command line first, then the scenario, then the program's own defaults. */
export function runOptions(request: RunRequest, defaults: RunDefaults = {}, version: string): RunOptions {
  const { precision } = request
  const options = studyOptions(request, defaults, precision === undefined ? 1 : 2, version)
  return {
    ...options,
    ...(precision === undefined ? {} : { precision }),
    cap: Math.max(CAP, options.replications),
  }
}
