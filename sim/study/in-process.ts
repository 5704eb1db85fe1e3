import type { Rows } from '../measure/rows.ts'
import { carryOut, type Job, type Runner } from './jobs.ts'
import type { StudyHooks } from './options.ts'

/** A runner that does one job after the other, here. */
export function inProcessRunner(hooks: StudyHooks = {}): Runner {
  let finished = 0
  let asked = 0
  const carriedOut = async (job: Job): Promise<Rows> => {
    const work = carryOut(job)
    for (;;) {
      const { value, done } = work.next()
      if (done) return value
      hooks.progress?.((finished + value) / asked, `run ${finished + 1} of ${asked}`)
      await hooks.pause?.()
    }
  }
  return {
    async run<Kept>(jobs: readonly Job[], keep: (rows: Rows) => Kept) {
      asked += jobs.length
      const kept: Kept[] = []
      for (const job of jobs) {
        kept.push(keep(await carriedOut(job)))
        finished++
      }
      return kept
    },
  }
}
