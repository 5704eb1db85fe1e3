import { copyFileSync, rmSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Carrier } from '../../../reports/jobs/carrier.ts'
import { jobKey } from '../../../reports/jobs/identity.ts'
import { joined } from '../../../reports/jobs/join.ts'
import { journalsIn, openJournal, othersOf, readJournal } from '../../../reports/jobs/journal.ts'
import { type RoundCount, studyRunner } from '../../../reports/jobs/runner.ts'
import { RunsMissing, ShareDone } from '../../../reports/jobs/trouble.ts'
import { simulate } from '../../../sim/study/designs/designs.ts'
import { type Job, type Runner, whole } from '../../../sim/study/jobs.ts'
import { runStudy } from '../../../sim/study/replicate.ts'
import { alike, freshFolder, rowsOf, smallJobs, smallLine, study } from './jobs.ts'

const folder = freshFolder()
const jobs = smallJobs(7)
const rows = await rowsOf(jobs)

/** A carrier that finishes the last job first, and remembers what it did. */
function backwards(done: Job[] = []): Carrier {
  return {
    async carry(asked, finished) {
      const made = await rowsOf(asked)
      for (let index = asked.length - 1; index >= 0; index--) {
        done.push(asked[index])
        finished(index, made[index])
      }
    },
    async end() {},
  }
}

/** Runs a share of a study in the folder, as a command does. */
async function share(index: number, count: number, work: (runner: Runner) => Promise<unknown>, done?: Job[]) {
  const journal = openJournal(folder(), study, { index, count })
  const others = othersOf(journal)
  const runner = studyRunner({ carrier: backwards(done), journal, others, shard: { index, count } })
  try {
    return await work(runner)
  } finally {
    journal.close()
  }
}

function merged(): Runner {
  const journals = journalsIn(folder()).flatMap(file => readJournal(file) ?? [])
  joined(journals)
  return studyRunner({ others: journals })
}

const options = {
  days: 1,
  replications: 4,
  seed: '1',
  drive: 'eager',
  cap: 40,
  level: 0.95,
  version: '',
} as const

describe('a runner', () => {
  it('gives rows in the order of the jobs, in whatever order they are finished', async () => {
    expect(alike(await studyRunner({ carrier: backwards() }).run(jobs, whole), rows)).toBe(true)
  })

  it('simulates what the journal lacks, and a run that is asked for twice once', async () => {
    const done: Job[] = []
    const counts: RoundCount[] = []
    const journal = openJournal(folder(), study, undefined)
    journal.add(jobKey(jobs[2]), jobs[2], rows[2])
    const runner = studyRunner({ carrier: backwards(done), journal, round: count => counts.push(count) })
    expect(
      alike(await runner.run([...jobs.slice(0, 3), jobs[0]], whole, 2), [...rows.slice(0, 3), rows[0]]),
    ).toBe(true)
    expect(alike(await runner.run(jobs.slice(1, 5), whole), rows.slice(1, 5))).toBe(true)
    journal.close()
    expect(done.map(job => job.replication)).toEqual([1, 0, 4, 3])
    expect(counts).toEqual([
      { known: 3, there: 1, toDo: 2, ahead: 2 },
      { known: 5, there: 3, toDo: 2, ahead: 0 },
    ])
  })
})

describe('shares', () => {
  it('have every run once, and merge into the rows of the whole', async () => {
    const done: Job[] = []
    for (const index of [3, 1])
      await expect(share(index, 3, runner => runner.run(jobs, whole), done)).rejects.toBeInstanceOf(ShareDone)
    expect(done.map(job => job.replication)).toEqual([5, 2, 6, 3, 0])
    const missing = await merged()
      .run(jobs, whole)
      .catch(error => error)
    expect(missing).toBeInstanceOf(RunsMissing)
    expect(missing).toMatchObject({ missing: [1, 4], known: 7 })
    // The last share could give the whole, for the others lie beside it.
    expect(alike(await share(2, 3, runner => runner.run(jobs, whole), done), rows)).toBe(true)
    expect(done.length).toBe(7)
    expect(alike(await merged().run(jobs, whole), rows)).toBe(true)
  })

  it('of a study in rounds go through its rounds when they are run again, to the same result', async () => {
    const wanted = { ...options, precision: 0.01 }
    const whole = await runStudy(smallLine, wanted)
    expect(whole.replications).toBeGreaterThan(4)
    const work = (runner: Runner) => runStudy(smallLine, wanted, {}, runner)
    const done: Job[] = []
    let finished: unknown
    for (let turn = 0; turn < 12 && finished === undefined; turn++)
      finished = await share((turn % 2) + 1, 2, work, done).catch(error => {
        if (!(error instanceof ShareDone)) throw error
      })
    expect(finished).toEqual(whole)
    expect(await work(merged())).toEqual(whole)
    expect(done.length).toBe(whole.replications)
  })

  it('of many designs are all asked for at once', async () => {
    const many = Array.from({ length: 3 }, (_, d) => ({
      name: `design ${d}`,
      line: { ...smallLine, line: `line ${d}` },
    }))
    const own = { ...options, replications: 10 }
    const simulated: Job[] = []
    await expect(share(1, 2, runner => simulate(many, own, { runner }), simulated)).rejects.toBeInstanceOf(
      ShareDone,
    )
    // Half of 30: more than a handful, and no second turn is needed for the others.
    expect(simulated.length).toBe(15)
  })

  it('may be there twice when they are alike, not when they contradict each other', async () => {
    await share(1, 2, runner => runner.run(jobs, whole)).catch(() => {})
    const [file] = journalsIn(folder())
    copyFileSync(file, path.join(folder(), 'runs.journal'))
    const read = () => journalsIn(folder()).flatMap(one => readJournal(one) ?? [])
    expect(joined(read()).command).toEqual(study.command)
    rmSync(path.join(folder(), 'runs.journal'))
    const other = openJournal(folder(), study, { index: 2, count: 2 })
    other.add(jobKey(jobs[0]), jobs[0], rows[1])
    other.close()
    expect(() => joined(read())).toThrow('the same run with different results')
  })

  it('of another study or of another number are refused by name', async () => {
    const put = (index: number, count: number, changed: Partial<typeof study>) => {
      const journal = openJournal(folder(), { ...study, ...changed }, { index, count })
      journal.add(jobKey(jobs[0]), jobs[0], rows[0])
      journal.close()
      return path.join(folder(), `runs-${index}-of-${count}.journal`)
    }
    const read = () => journalsIn(folder()).flatMap(one => readJournal(one) ?? [])
    put(1, 2, {})
    rmSyncAfter(put(2, 2, { seed: '7' }), () => expect(() => joined(read())).toThrow('seed "7", not "1"'))
    rmSyncAfter(put(2, 2, { command: ['run', 'x.ts'] }), () =>
      expect(() => joined(read())).toThrow('command "run x.ts", not "run line.ts"'),
    )
    rmSyncAfter(put(2, 3, {}), () => expect(() => joined(read())).toThrow('one of 3 shares, not of 2'))
    expect(joined(read()).seed).toBe('1')
  })
})

function rmSyncAfter(file: string, check: () => void): void {
  check()
  rmSync(file)
}
