import type { Options } from 'yargs'
import { type FoundShard, MOST_SHARES, shardFromEnvironment, shardIn } from '../jobs/shard.ts'
import type { Arguments } from './arguments.ts'
import { wrongUsage } from './failure.ts'
import { type OptionText, wholeNumber, word } from './option-values.ts'
import type { Surroundings } from './surroundings.ts'

/** Options of every command that simulates: how and where the work is done. They change no figure. */
export const WORK_OPTIONS = {
  workers: { type: 'string', describe: 'Runs simulated at the same time (default: one per core)' },
  out: { type: 'string', describe: 'Write the results into this folder; finished runs are kept there too' },
  shard: { type: 'string', describe: 'Simulate only the i-th of n shares of the runs: i/n (needs --out)' },
  fresh: { type: 'boolean', describe: 'Throw away the finished runs kept in the --out folder' },
} as const satisfies Record<string, Options>

/** How and where the work is done, checked. */
export interface WorkRequest {
  readonly workers: number
  readonly out: string | undefined
  readonly shard: FoundShard | undefined
  /** What becomes of finished runs in the folder. */
  readonly kept: 'used' | 'thrown away'
}

const MOST_WORKERS = 1024

/** Reads the options of the work. Throws a `Failure` for wrong usage. */
export function readWorkRequest({ env, cores }: Surroundings, given: Arguments): WorkRequest {
  const text = (option: keyof typeof WORK_OPTIONS) => given[option] as OptionText
  const out = word('out', text('out'), 'the name of a folder')
  const shard = shardWanted(text('shard'), env)
  if (shard !== undefined && out === undefined) {
    const way = shard.from === '--shard' ? '' : ', or --shard 1/1 for all runs'
    throw wrongUsage(
      `${shard.from}: a share of the runs needs --out FOLDER, where its finished runs are kept${way}`,
    )
  }
  if (given.fresh === true && out === undefined) {
    throw wrongUsage('--fresh: has nothing to throw away without --out FOLDER')
  }
  return {
    workers: wholeNumber('workers', text('workers'), { least: 1, most: MOST_WORKERS }) ?? cores,
    out,
    shard: shard?.shard.count === 1 ? undefined : shard,
    kept: given.fresh === true ? 'thrown away' : 'used',
  }
}

/** The share that was typed, else the one that a scheduler has set. */
function shardWanted(given: OptionText, env: Surroundings['env']): FoundShard | undefined {
  const text = word('shard', given, 'i/n, such as 2/8')
  if (text === undefined) return shardFromEnvironment(env)
  const shard = shardIn(text)
  if (shard !== undefined) return { shard, from: '--shard' }
  throw wrongUsage(
    `--shard: found "${text}"; allowed is i/n with i from 1 to n and n up to ${MOST_SHARES}, such as 2/8`,
  )
}

/** Options that change no figure, and whether a value follows. */
const NO_FIGURE: Readonly<Record<string, 'value' | 'no value'>> = {
  '--workers': 'value',
  '--out': 'value',
  '--shard': 'value',
  '--fresh': 'no value',
  '--json': 'no value',
  '--audit': 'no value',
  '--open': 'no value',
}

/** Whether the page shall be opened. Throws a `Failure` where none is written. */
export function readOpen(given: Arguments): 'opened' | 'not opened' {
  if (given.open !== true) return 'not opened'
  if (given.out === undefined)
    throw wrongUsage('--open: there is no page to open; name the folder for it with --out')
  return 'opened'
}

/** The words of a command that make its figures: without those of how, where to and in what form. */
export function figureWords(args: readonly string[]): string[] {
  return args.filter((arg, index) => {
    const own = NO_FIGURE[arg.split('=')[0]]
    const before = index === 0 ? undefined : args[index - 1]
    const follows = before !== undefined && NO_FIGURE[before] === 'value'
    return own === undefined && !follows
  })
}
