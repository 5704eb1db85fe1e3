import { copyFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { jobKey } from '../../../reports/jobs/identity.ts'
import { type Journal, openJournal, readJournal } from '../../../reports/jobs/journal.ts'
import { headOf } from '../../../reports/jobs/journal-head.ts'
import { lineWith, valueIn } from '../../../reports/jobs/journal-lines.ts'
import { alike, freshFolder, rowsOf, smallJobs, smallLine, study } from './jobs.ts'

const folder = freshFolder()
const file = () => path.join(folder(), 'runs.journal')
const jobs = smallJobs(4)
const rows = await rowsOf(jobs)

function filled(count = jobs.length): Journal {
  const journal = openJournal(folder(), study, undefined)
  for (let k = 0; k < count; k++) journal.add(jobKey(jobs[k]), jobs[k], rows[k])
  journal.close()
  return journal
}

/** How many of the first runs a journal holds; all of them must be right. */
function soundRuns(journal: Pick<Journal, 'find'>): number {
  const found = jobs.map(job => journal.find(jobKey(job)))
  const whole = [...found, undefined].indexOf(undefined)
  const right = found.map((one, k) => (k < whole ? one && alike(one, rows[k]) : one === undefined))
  expect(right).toEqual(jobs.map(() => true))
  return whole
}

describe('a journal', () => {
  it('is made with the first run and gives every run back to the last bit', () => {
    const journal = openJournal(folder(), study, undefined)
    expect(existsSync(file())).toBe(false)
    jobs.forEach((job, k) => {
      journal.add(jobKey(job), job, rows[k])
    })
    expect(soundRuns(journal)).toBe(4)
    journal.close()
    const again = openJournal(folder(), study, undefined)
    expect(soundRuns(again)).toBe(4)
    expect(again.size()).toBe(4)
    expect(again.damaged).toBe(0)
  })

  it('keeps a run once', () => {
    filled()
    const before = readFileSync(file())
    filled()
    expect(readFileSync(file()).equals(before)).toBe(true)
  })

  it('is small: zeros take no room', () => {
    filled()
    const bytes = rows.reduce((sum, one) => sum + one.line.stays.byteLength, 0)
    expect(readFileSync(file()).length).toBeLessThan(bytes / 10)
  })

  it('torn anywhere, loses at most the torn run, and grows to the same bytes again', () => {
    filled()
    const whole = readFileSync(file())
    const ends = [...whole.entries()].flatMap(([at, byte]) => (byte === 10 ? [at + 1] : []))
    const places = [0, 1, 15, 16, 17, ...ends.flatMap(end => [end - 2, end - 1, end, end + 1, end + 100])]
    for (let at = 0; at < whole.length; at += 3989) places.push(at)
    for (const at of places) {
      writeFileSync(file(), whole.subarray(0, at))
      const journal = openJournal(folder(), study, undefined)
      const left = Math.max(0, ends.filter(end => end <= at).length - 1)
      expect(soundRuns(journal)).toBe(left)
      expect(journal.damaged).toBe(0)
      jobs.forEach((job, k) => {
        journal.add(jobKey(job), job, rows[k])
      })
      journal.close()
      expect(readFileSync(file()).equals(whole)).toBe(true)
    }
  })

  it('with zeros at its end, as a power cut can leave them, drops them', () => {
    filled(2)
    const whole = readFileSync(file())
    writeFileSync(file(), Buffer.concat([whole, Buffer.alloc(5000)]))
    filled(4)
    expect(soundRuns(openJournal(folder(), study, undefined))).toBe(4)
  })

  it('does a damaged run again and keeps the others', () => {
    filled()
    const bytes = readFileSync(file())
    const second = bytes.indexOf('replication 2')
    bytes[second + 200] ^= 1
    writeFileSync(file(), bytes)
    const journal = openJournal(folder(), study, undefined)
    expect(journal.damaged).toBe(1)
    expect(jobs.map(job => journal.has(jobKey(job)))).toEqual([true, false, true, true])
    journal.add(jobKey(jobs[1]), jobs[1], rows[1])
    journal.close()
    expect(soundRuns(openJournal(folder(), study, undefined))).toBe(4)
  })

  it('notices another program that writes to it', () => {
    const one = openJournal(folder(), study, undefined)
    const other = openJournal(folder(), study, undefined)
    one.add(jobKey(jobs[0]), jobs[0], rows[0])
    expect(() => other.add(jobKey(jobs[1]), jobs[1], rows[1])).toThrow('Is the same command running twice?')
    one.add(jobKey(jobs[1]), jobs[1], rows[1])
    one.close()
    expect(readJournal(file())?.size()).toBe(2)
  })
})

describe('a journal is refused', () => {
  const reopen = (changed: Partial<typeof study>) =>
    openJournal(folder(), { ...study, ...changed }, undefined)

  it('when it is of another scenario', () => {
    filled(1)
    const line = { ...smallLine, line: 'other line' }
    expect(() => reopen({ line })).toThrow(
      /runs\.journal keeps the runs of another study: scenario "small line" \([0-9a-f]{12}\), not "other line" \([0-9a-f]{12}\)\.\n.*--out.*--fresh/,
    )
  })

  it('when it is of another seed', () => {
    filled(1)
    expect(() => reopen({ seed: '2' })).toThrow('another study: seed "1", not "2".')
  })

  it('when another version or another engine made it', () => {
    filled(1)
    expect(() => reopen({ version: '0.2.0' })).toThrow(/version 0\.1\.0 \(engine .*\), not 0\.2\.0/)
    const [head, ...lines] = readFileSync(file(), 'utf8').split('\n')
    const older = { ...(valueIn(Buffer.from(head)) as object), engine: 'engine 0123456789ab, Node 20' }
    writeFileSync(file(), lineWith(older) + lines.join('\n'))
    expect(() => reopen({})).toThrow('version 0.1.0 (engine 0123456789ab, Node 20), not 0.1.0 (engine ')
  })

  it('when all differs, with all of it said', () => {
    filled(1)
    const other = { line: { ...smallLine, line: 'x' }, seed: 'y', version: 'z' }
    expect(() => reopen(other)).toThrow(/scenario .*; seed .*; version /)
  })

  it('when it is of another command, for a share', () => {
    const shard = { index: 1, count: 2 }
    const journal = openJournal(folder(), study, shard)
    journal.add(jobKey(jobs[0]), jobs[0], rows[0])
    journal.close()
    expect(() => openJournal(folder(), { ...study, command: ['run', 'x.ts'] }, shard)).toThrow(
      'command "run line.ts", not "run x.ts"',
    )
  })

  it('when it is no journal, and is left as it is', () => {
    writeFileSync(file(), 'my notes\nof today\n')
    expect(() => reopen({})).toThrow('runs.journal is no journal of runs')
    expect(readFileSync(file(), 'utf8')).toBe('my notes\nof today\n')
  })

  it('but not for more replications or another drive: those runs have other names', () => {
    filled(2)
    copyFileSync(file(), path.join(folder(), 'copy'))
    expect(jobKey({ ...jobs[0], drive: 'strict' })).not.toBe(jobKey(jobs[0]))
    expect(jobKey({ ...jobs[0], days: 2 })).not.toBe(jobKey(jobs[0]))
    expect(jobKey({ ...jobs[0], label: 'other words' })).toBe(jobKey(jobs[0]))
    expect(reopen({ command: ['run', 'line.ts', '--replications', '9'] }).size()).toBe(2)
  })
})

describe('the head of a journal', () => {
  it('holds the scenario, for a merge elsewhere', () => {
    filled(1)
    expect(readJournal(file())?.head).toEqual(headOf(study, undefined))
  })
})
