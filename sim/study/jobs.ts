import { Run } from '../engine/run.ts'
import type { Line } from '../line/types.ts'
import { activeRows, recordActive } from '../measure/active.ts'
import { type Rows, rowsOf } from '../measure/rows.ts'
import { compile } from '../plan/compile.ts'
import { TICKS_PER_SECOND } from '../plan/plan.ts'
import type { RunOptions } from './options.ts'

const SECONDS_PER_DAY = 86400

/** One replication of one line: the unit of work of every study. Plain data, so it can go to a worker. */
export interface Job {
  /** A line that `checkLine` has passed, its variant applied. */
  readonly line: Line
  /** What is simulated, in words, for progress and messages. */
  readonly label: string
  /** From 0. With the seed it names the random streams. */
  readonly replication: number
  readonly seed: string
  readonly days: number
  readonly drive: 'strict' | 'eager'
  /** What is written down besides the books. Takes longer. */
  readonly records?: 'active periods'
}

/**
 * Carries out jobs, here or elsewhere, in any order, some at the same time. The same
 * job gives the same rows wherever and whenever it is done.
 */
export interface Runner {
  /**
   * May be called several times, as a study goes on; one call at a time. Of each job only
   * what `keep` takes out of its rows is held, so a call may ask for any number of jobs.
   *
   * @param ahead what the study will ask for after these; only for telling how far it is
   * @returns what was kept of each job, in the order of the jobs
   * @throws what ends the study (an interrupt, a job that failed twice)
   */
  run<Kept>(jobs: readonly Job[], keep: (rows: Rows) => Kept, ahead?: Ahead): Promise<Kept[]>
}

/** Runs that a study will ask for later: how many, or nobody knows before these are done. */
export type Ahead = number | 'unknown'

/** Keeps all there is. */
export function whole(rows: Rows): Rows {
  return rows
}

/** Jobs of a line for the replications from `first` up to, not including, `end`. */
export function jobsOf(
  line: Line,
  label: string,
  { seed, days, drive }: Pick<RunOptions, 'seed' | 'days' | 'drive'>,
  first: number,
  end: number,
): Job[] {
  const count = Math.max(0, end - first)
  return Array.from({ length: count }, (_, k) => ({ line, label, replication: first + k, seed, days, drive }))
}

/** Simulates one job piece by piece: yields the share done, 0 to 1, and returns its rows. */
export function* carryOut(job: Job): Generator<number, Rows, void> {
  const { line, replication, seed, days, drive } = job
  const plan = compile(line)
  const run = new Run(plan, days * SECONDS_PER_DAY * TICKS_PER_SECOND, { seed, replication }, drive)
  const record = job.records === 'active periods' ? recordActive(run) : undefined
  for (let done = 0; done < 1; ) {
    done = run.step()
    yield done
  }
  return { ...rowsOf(plan, run), ...(record && { active: activeRows(plan, run, record) }) }
}
