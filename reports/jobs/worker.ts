import { carryOut, type Job } from '../../sim/study/jobs.ts'

/** A job done, in the numbers in which workers tell how far they are. */
export const WHOLE = 1_000_000

/** What a worker gets: a job, and where it tells how far it is. */
export interface Task {
  readonly job: Job
  /** Memory shared with the program: a number up to WHOLE for each task. */
  readonly shares: Int32Array
  /** The place of this task there. */
  readonly index: number
}

/**
 * Carries out one job in a worker. @returns its rows, which the program gets as a copy: were
 * their memory handed over instead, every look at a typed array in this thread would have to
 * ask whether its memory is still there, and all further runs would take a tenth longer
 */
export function work({ job, shares, index }: Task): unknown {
  const steps = carryOut(job)
  for (;;) {
    const { value, done } = steps.next()
    if (done) return value
    Atomics.store(shares, index, Math.round(value * WHOLE))
  }
}
