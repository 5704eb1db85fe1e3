import { createHash } from 'node:crypto'
import type { Line } from '../../sim/line/types.ts'
import { engineIdentity, lineHash } from './identity.ts'
import type { Shard } from './shard.ts'

/** First line of a journal: what its runs belong to. */
export interface Head {
  readonly format: typeof FORMAT
  readonly version: string
  readonly engine: string
  /** Hash of the scenario, its variants included. */
  readonly scenario: string
  readonly seed: string
  /** The words of the command that make the figures; how and where it works left out. */
  readonly command: readonly string[]
  readonly shard?: Shard
  /** The scenario itself, for a merge elsewhere. */
  readonly line: Line
  /** Further scenario files of the command, by their names in it. */
  readonly beside?: Readonly<Record<string, Line>>
}

export const FORMAT = 'linewright runs 1'

/** What a study is, to its journal. */
export interface StudyIdentity {
  readonly line: Line
  /** Further scenario files of the command, by their names in it. */
  readonly beside?: Readonly<Record<string, Line>> | undefined
  readonly seed: string
  readonly version: string
  readonly command: readonly string[]
}

export function headOf(study: StudyIdentity, shard: Shard | undefined): Head {
  return {
    format: FORMAT,
    version: study.version,
    engine: engineIdentity(),
    scenario: scenarioHash(study),
    seed: study.seed,
    command: study.command,
    ...(shard !== undefined && { shard }),
    line: study.line,
    ...(study.beside !== undefined && { beside: study.beside }),
  }
}

function scenarioHash({ line, beside = {} }: StudyIdentity): string {
  const hashes = [lineHash(line), ...Object.values(beside).map(lineHash)]
  return hashes.length === 1 ? hashes[0] : createHash('sha256').update(hashes.join()).digest('hex')
}

export function isHead(value: unknown): value is Head {
  return typeof value === 'object' && value !== null && (value as Partial<Head>).format === FORMAT
}

/**
 * In what a journal differs from the study that wants to go on with it, in words: scenario,
 * seed, version, and for a share also its number and its command. Empty when in nothing.
 */
export function differences(found: Head, wanted: Head): string[] {
  const differs = (what: string, is: string, not: string) => (is === not ? [] : [`${what} ${is}, not ${not}`])
  const scenario = ({ line, scenario }: Head) => `"${line.line}" (${scenario.slice(0, 12)})`
  const version = ({ version, engine }: Head) => `${version} (${engine})`
  const shard = ({ shard }: Head) => (shard === undefined ? 'none' : `${shard.index}/${shard.count}`)
  const command = ({ command }: Head) => `"${command.join(' ')}"`
  return [
    ...differs('scenario', scenario(found), scenario(wanted)),
    ...differs('seed', `"${found.seed}"`, `"${wanted.seed}"`),
    ...differs('version', version(found), version(wanted)),
    ...differs('share', shard(found), shard(wanted)),
    // The shares of a study must all be of one command, for a merge repeats it.
    ...(wanted.shard === undefined ? [] : differs('command', command(found), command(wanted))),
  ]
}
