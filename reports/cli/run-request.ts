import type { Options } from 'yargs'
import type { RunDefaults } from '../../sim/line/types.ts'
import type { RunOptions } from '../../sim/study/options.ts'
import type { Arguments } from './arguments.ts'
import { wrongUsage } from './failure.ts'
import { type OptionText, oneOf, positiveNumber, share, wholeNumber, word } from './option-values.ts'
import type { Surroundings } from './surroundings.ts'
import { readOpen, readWorkRequest, WORK_OPTIONS, type WorkRequest } from './work-options.ts'

/** Options of `run`. All values are read as text and checked by hand. */
export const RUN_OPTIONS = {
  variant: { type: 'string', describe: 'Simulate this variant of the line' },
  days: { type: 'string', describe: 'Simulated days per replication (default: the scenario, else 10)' },
  replications: { type: 'string', describe: 'Independent replications (default: the scenario, else 10)' },
  precision: {
    type: 'string',
    describe: 'Add replications, up to 200, until the half-width of the good output is this small: "0.5 %"',
  },
  level: { type: 'string', describe: 'Level of the intervals (default "95 %")' },
  seed: { type: 'string', describe: 'Seed of the random streams (default: the scenario, else 1)' },
  drive: { type: 'string', describe: 'eager (fast) or strict; both give the same figures (default eager)' },
  ...WORK_OPTIONS,
  open: { type: 'boolean', describe: 'Open the page when it is written (needs --out)' },
  json: { type: 'boolean', describe: 'Print one JSON document instead of the summary' },
  audit: { type: 'boolean', describe: 'Print the audit: where every wafer went' },
} as const satisfies Record<string, Options>

/** A checked command line of `run`; what is undefined was not given. */
export interface RunRequest {
  readonly variant: string | undefined
  readonly work: WorkRequest
  readonly open: 'opened' | 'not opened'
  readonly output: 'summary' | 'document'
  readonly audit: 'shown' | 'not shown'
  readonly days: number | undefined
  readonly replications: number | undefined
  readonly precision: number | undefined
  readonly level: number | undefined
  readonly seed: string | undefined
  readonly drive: 'eager' | 'strict' | undefined
}

const MOST_DAYS = 36_500
const MOST_REPLICATIONS = 10_000
/** Replications that `--precision` may go up to. */
const CAP = 200

/** Reads the options of `run`. Throws a `Failure` for wrong usage. */
export function readRunRequest(surroundings: Surroundings, given: Arguments): RunRequest {
  const text = (option: keyof typeof RUN_OPTIONS) => given[option] as OptionText
  const replications = wholeNumber('replications', text('replications'), {
    least: 1,
    most: MOST_REPLICATIONS,
  })
  const precision = share('precision', text('precision'), { least: 0, most: 1, example: '0.5 %' })
  if (precision !== undefined && replications === 1) {
    throw wrongUsage(
      '--precision: found together with --replications 1; an interval needs at least 2 replications',
    )
  }
  return {
    variant: word('variant', text('variant'), 'the name of a variant of the scenario'),
    work: readWorkRequest(surroundings, given),
    open: readOpen(given),
    output: given.json === true ? 'document' : 'summary',
    audit: given.audit === true ? 'shown' : 'not shown',
    days: positiveNumber('days', text('days'), MOST_DAYS),
    replications,
    precision,
    level: share('level', text('level'), { least: 0.5, most: 1, example: '95 %' }),
    seed: word('seed', text('seed'), 'any text'),
    drive: oneOf('drive', text('drive'), ['eager', 'strict']),
  }
}

/** What to run: the command line first, then the scenario, then the program's own defaults. */
export function runOptions(request: RunRequest, defaults: RunDefaults = {}, version: string): RunOptions {
  const { precision } = request
  const asked = request.replications ?? defaults.replications ?? 10
  const replications = precision === undefined ? asked : Math.max(2, asked)
  return {
    days: request.days ?? defaults.days ?? 10,
    replications,
    seed: request.seed ?? defaults.seed ?? '1',
    drive: request.drive ?? 'eager',
    ...(precision === undefined ? {} : { precision }),
    cap: Math.max(CAP, replications),
    level: request.level ?? 0.95,
    version,
  }
}
