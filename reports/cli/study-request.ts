import type { Options } from 'yargs'
import type { RunDefaults } from '../../sim/line/types.ts'
import type { DesignOptions } from '../../sim/study/designs/designs.ts'
import type { Arguments } from './arguments.ts'
import { type OptionText, oneOf, positiveNumber, share, wholeNumber, word } from './option-values.ts'
import type { Surroundings } from './surroundings.ts'
import { readOpen, readWorkRequest, WORK_OPTIONS, type WorkRequest } from './work-options.ts'

/** Options of everything that simulates. All values are read as text and checked by hand. */
export const DAYS_OPTION = {
  days: { type: 'string', describe: 'Simulated days per replication (default: the scenario, else 10)' },
} as const satisfies Record<string, Options>

export const STUDY_OPTIONS = {
  level: { type: 'string', describe: 'Level of the intervals (default "95 %")' },
  seed: { type: 'string', describe: 'Seed of the random streams (default: the scenario, else 1)' },
  drive: { type: 'string', describe: 'eager (fast) or strict; both give the same figures (default eager)' },
  ...WORK_OPTIONS,
  open: { type: 'boolean', describe: 'Open the page when it is written (needs --out)' },
} as const satisfies Record<string, Options>

/** A checked command line of a study; what is undefined was not given. */
export interface StudyRequest {
  readonly work: WorkRequest
  readonly open: 'opened' | 'not opened'
  readonly days: number | undefined
  readonly replications: number | undefined
  readonly level: number | undefined
  readonly seed: string | undefined
  readonly drive: 'eager' | 'strict' | undefined
}

const MOST_DAYS = 36_500
const MOST_REPLICATIONS = 10_000

/**
 * Reads the options that all studies share. Throws a `Failure` for wrong usage.
 *
 * @param leastReplications a difference needs two to have an interval
 */
export function readStudyRequest(
  surroundings: Surroundings,
  given: Arguments,
  leastReplications: number,
): StudyRequest {
  const text = (option: string) => given[option] as OptionText
  return {
    work: readWorkRequest(surroundings, given),
    open: readOpen(given),
    days: positiveNumber('days', text('days'), MOST_DAYS),
    replications: wholeNumber('replications', text('replications'), {
      least: leastReplications,
      most: MOST_REPLICATIONS,
    }),
    level: share('level', text('level'), { least: 0.5, most: 1, example: '95 %' }),
    seed: word('seed', text('seed'), 'any text'),
    drive: oneOf('drive', text('drive'), ['eager', 'strict']),
  }
}

/** How to simulate: the command line first, then the scenario, then the program's own defaults. */
export function studyOptions(
  request: StudyRequest,
  defaults: RunDefaults,
  leastReplications: number,
  version: string,
): DesignOptions {
  return {
    days: request.days ?? defaults.days ?? 10,
    replications: Math.max(leastReplications, request.replications ?? defaults.replications ?? 10),
    seed: request.seed ?? defaults.seed ?? '1',
    drive: request.drive ?? 'eager',
    level: request.level ?? 0.95,
    version,
  }
}
