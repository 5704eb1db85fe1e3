import { Trouble } from './trouble.ts'

/** The i-th of n shares of the runs of a study; i from 1. */
export interface Shard {
  readonly index: number
  readonly count: number
}

type Environment = Readonly<Record<string, string | undefined>>

/** A share and where it was said, for the user. */
export interface FoundShard {
  readonly shard: Shard
  readonly from: string
}

/** The share in "i/n"; undefined when the text is none. */
export function shardIn(text: string): Shard | undefined {
  const match = /^\s*(\d+)\s*\/\s*(\d+)\s*$/.exec(text)
  if (match === null) return undefined
  const [index, count] = [Number(match[1]), Number(match[2])]
  return index >= 1 && index <= count && count <= MOST_SHARES ? { index, count } : undefined
}

/** More shares than any scheduler hands out. */
export const MOST_SHARES = 100_000

/** Run number k of a study (from 0) is in share k mod n + 1, so that neighbours spread. */
export function shareOf(run: number, count: number): number {
  return (run % count) + 1
}

/**
 * The share that a scheduler has set in the environment: a Slurm job array
 * (SLURM_ARRAY_TASK_ID with its least, count and step), or a Kubernetes Indexed Job
 * (JOB_COMPLETION_INDEX from 0, with JOB_COMPLETIONS set by hand to spec.completions,
 * for Kubernetes does not tell the number). Undefined when there is none.
 *
 * Throws a `Trouble` when it is there but makes no share. An array of one is no share.
 */
export function shardFromEnvironment(env: Environment): FoundShard | undefined {
  if (env.SLURM_ARRAY_TASK_ID) return slurm(env)
  if (env.JOB_COMPLETION_INDEX) return kubernetes(env)
  return undefined
}

function slurm(env: Environment): FoundShard {
  const name = 'SLURM_ARRAY_TASK_ID'
  const id = whole(env, name)
  const count = whole(env, 'SLURM_ARRAY_TASK_COUNT')
  const least = whole(env, 'SLURM_ARRAY_TASK_MIN')
  const step = env.SLURM_ARRAY_TASK_STEP ? whole(env, 'SLURM_ARRAY_TASK_STEP') : 1
  const index = (id - least) / step + 1
  // Slurm tells no list: an array with gaps shows by its last index.
  const gaps = env.SLURM_ARRAY_TASK_MAX && whole(env, 'SLURM_ARRAY_TASK_MAX') !== least + (count - 1) * step
  if (gaps || !Number.isInteger(index) || index < 1 || index > count) {
    throw new Trouble(
      `the Slurm array has gaps (task ${id} of ${count}, from ${least} to ${env.SLURM_ARRAY_TASK_MAX ?? '?'}, ` +
        `step ${step}): which share this is cannot be told. Use an array such as 1-${count}, or give --shard i/n.`,
    )
  }
  return { shard: { index, count }, from: `${name}=${id}` }
}

function kubernetes(env: Environment): FoundShard {
  const index = whole(env, 'JOB_COMPLETION_INDEX') + 1
  if (!env.JOB_COMPLETIONS) {
    throw new Trouble(
      'JOB_COMPLETION_INDEX is set, JOB_COMPLETIONS is not: set it to spec.completions of the Kubernetes Job, ' +
        'or give --shard i/n.',
    )
  }
  const count = whole(env, 'JOB_COMPLETIONS')
  if (index > count) {
    throw new Trouble(`JOB_COMPLETION_INDEX=${index - 1} is not below JOB_COMPLETIONS=${count}.`)
  }
  return { shard: { index, count }, from: `JOB_COMPLETION_INDEX=${index - 1}` }
}

function whole(env: Environment, name: string): number {
  const text = env[name]
  if (text === undefined || !/^\d{1,9}$/.test(text)) {
    throw new Trouble(
      `${name} is ${text === undefined ? 'not set' : `"${text}"`}: a whole number was expected. Give --shard i/n.`,
    )
  }
  return Number(text)
}
