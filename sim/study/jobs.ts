import type { Line } from '../line/types.ts'
import type { Rows } from '../measure/rows.ts'

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
}

/**
 * Carries out jobs, here or elsewhere, in any order, some at the same time. The same
 * job gives the same rows wherever and whenever it is done.
 */
export interface Runner {
  /**
   * @returns the rows of each job, in the order of the jobs
   * @throws what ends the study (an interrupt, a job that failed twice)
   */
  run(jobs: readonly Job[]): Promise<Rows[]>
}
