import { mkdtempSync, realpathSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { afterEach, beforeEach } from 'vitest'
import type { StudyIdentity } from '../../../reports/jobs/journal-head.ts'
import type { Line } from '../../../sim/line/types.ts'
import type { Rows } from '../../../sim/measure/rows.ts'
import { inProcessRunner } from '../../../sim/study/in-process.ts'
import { type Job, jobsOf, whole } from '../../../sim/study/jobs.ts'

/** A line that is simulated in a moment, with something of everything that rows keep. */
export const smallLine: Line = {
  line: 'small line',
  from: 'invented',
  route: [
    { step: 'laser', cycle: '20 s', breakage: '0.5 %' },
    { buffer: 'between', capacity: 20 },
    {
      step: 'printer',
      cycle: { exponential: '22 s' },
      stops: [{ stop: 'jam', every: { exponential: '2 h' }, lasts: '3 min' }],
    },
  ],
}

export const study: StudyIdentity = {
  line: smallLine,
  seed: '1',
  version: '0.1.0',
  command: ['run', 'line.ts'],
}

export function smallJobs(count: number): Job[] {
  return jobsOf(smallLine, 'small line', { seed: '1', days: 1, drive: 'eager' }, 0, count)
}

/** The rows of jobs as the simplest of all runners makes them. */
export function rowsOf(jobs: readonly Job[]): Promise<Rows[]> {
  return inProcessRunner().run(jobs, whole)
}

/** True when two results are equal to the last bit. Quicker by far than a comparison number by number. */
export function alike(one: unknown, other: unknown): boolean {
  return isDeepStrictEqual(one, other)
}

/** A folder of its own for each test of a file. */
export function freshFolder(): () => string {
  let folder = ''
  beforeEach(() => {
    folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'runs-')))
  })
  afterEach(() => rmSync(folder, { recursive: true, force: true }))
  return () => folder
}
