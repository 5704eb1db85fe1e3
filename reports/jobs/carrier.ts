import type { Rows } from '../../sim/measure/rows.ts'
import { carryOut, type Job } from '../../sim/study/jobs.ts'

/** Does jobs for a runner. */
export interface Carrier {
  /**
   * Carries out all jobs, in any order.
   *
   * @param finished called once per job, with its index, as soon as it is done
   * @throws what `watch.breathe` or `finished` throws; what makes a job impossible
   */
  carry(jobs: readonly Job[], finished: (index: number, rows: Rows) => void): Promise<void>
  /** Stops whatever still goes on and gives everything back. */
  end(): Promise<void>
}

/** The program around, as the work sees it. */
export interface Watch {
  /** Lets signals be heard; rejects to end the study. Called several times a second. */
  breathe(): Promise<void>
  /** Told now and then: the jobs of this call as a sum of shares done, and one that is being done. */
  progress(done: number, now: Job): void
  /** Something that the user should know; the work goes on. */
  note(text: string): void
}

/** Does one job after the other within this process. */
export function carrierHere(watch: Watch): Carrier {
  return {
    async carry(jobs, finished) {
      for (const [index, job] of jobs.entries()) {
        const steps = carryOut(job)
        for (let step = steps.next(); ; step = steps.next()) {
          if (step.done) {
            finished(index, step.value)
            break
          }
          watch.progress(index + step.value, job)
          await watch.breathe()
        }
      }
    },
    async end() {},
  }
}
