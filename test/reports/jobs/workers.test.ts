import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { type Carrier, carrierHere, type Watch } from '../../../reports/jobs/carrier.ts'
import { Trouble } from '../../../reports/jobs/trouble.ts'
import { carrierWorkers } from '../../../reports/jobs/workers.ts'
import type { Rows } from '../../../sim/measure/rows.ts'
import type { Job } from '../../../sim/study/jobs.ts'
import { alike, freshFolder, rowsOf, smallJobs } from './jobs.ts'

const DYING = { module: new URL('./dying-worker.ts', import.meta.url), megabytes: 100 }
const TELLING = new URL('./telling-worker.ts', import.meta.url)
const KEEPING = new URL('./keeping-worker.ts', import.meta.url)
const folder = freshFolder()

function watching(more: Partial<Watch> = {}) {
  const notes: string[] = []
  const shares: number[] = []
  const watch: Watch = {
    async breathe() {},
    progress: done => shares.push(done),
    note: text => notes.push(text),
    ...more,
  }
  return { watch, notes, shares }
}

async function carried(carrier: Carrier, jobs: readonly Job[]) {
  const rows: Rows[] = []
  const order: number[] = []
  try {
    await carrier.carry(jobs, (index, one) => {
      rows[index] = one
      order.push(index)
    })
  } finally {
    await carrier.end()
  }
  return { rows, order }
}

describe('workers', () => {
  it('give the same rows as no worker at all, long runs first', async () => {
    const jobs = smallJobs(5).map((job, k) => ({ ...job, days: 41 - 10 * k }))
    const { watch, notes, shares } = watching()
    const { rows, order } = await carried(carrierWorkers(3, watch), jobs)
    expect(alike(rows, await rowsOf(jobs))).toBe(true)
    expect([...order].sort()).toEqual([0, 1, 2, 3, 4])
    expect(notes).toEqual([])
    expect(shares.at(-1)).toBe(5)
    expect(shares.every((share, k) => k === 0 || share >= shares[k - 1])).toBe(true)
  })

  it('run modules as they are, not rewritten for `require`, which takes twice as long', async () => {
    const { watch, notes } = watching()
    await carried(carrierWorkers(1, watch, { module: TELLING }), smallJobs(1))
    expect(notes).toEqual([])
  })

  it('keep the memory of what they return: without it each further run takes a tenth longer', async () => {
    const { watch, notes } = watching()
    await carried(carrierWorkers(1, watch, { module: KEEPING }), smallJobs(2))
    expect(notes).toEqual([])
  })

  it('are as good as the carrier here', async () => {
    const jobs = smallJobs(3)
    const { watch, shares } = watching()
    const { rows, order } = await carried(carrierHere(watch), jobs)
    expect(alike(rows, await rowsOf(jobs))).toBe(true)
    expect(order).toEqual([0, 1, 2])
    expect(shares.at(-1)).toBe(3)
  })

  it('stop within a second when interrupted, whatever they do', async () => {
    const [job] = smallJobs(1)
    let asked = 0
    let interruptedAt = 0
    const { watch } = watching({
      async breathe() {
        if (++asked < 10) return
        interruptedAt = performance.now()
        throw new Error('interrupted')
      },
    })
    const endless = [0, 1].map(replication => ({ ...job, label: 'loop always', replication }))
    await expect(carried(carrierWorkers(2, watch, DYING), endless)).rejects.toThrow('interrupted')
    expect(performance.now() - interruptedAt).toBeLessThan(1000)
  })
})

/** Three jobs, over the second of which a worker dies. */
function deadly(how: string, often: string): Job[] {
  const [first, second, third] = smallJobs(3)
  return [first, { ...second, label: `${how} ${often} ${path.join(folder(), how)}` }, third]
}

describe('a worker that dies', () => {
  it('is reported with the run it had, which is then done by another', async () => {
    const jobs = ['throw', 'exit', 'memory'].flatMap(how => deadly(how, 'once'))
    const { watch, notes } = watching()
    const { rows } = await carried(carrierWorkers(2, watch, DYING), jobs)
    expect(alike(rows, await rowsOf(jobs))).toBe(true)
    const told = (index: number, cause: string) =>
      `the worker with "${jobs[index].label}", replication 2, seed "1" died (${cause}); that run is tried once more`
    expect(notes.sort()).toEqual([
      told(4, 'worker exited with code: 3'),
      told(7, 'out of memory'),
      told(1, 'x is undefined'),
    ])
  })

  it('twice over the same run ends the study, what was finished before is handed over', async () => {
    const jobs = deadly('exit', 'always')
    const finished: number[] = []
    const carrier = carrierWorkers(1, watching().watch, DYING)
    const error = await carrier.carry(jobs, index => finished.push(index)).catch(thrown => thrown)
    await carrier.end()
    expect(error).toBeInstanceOf(Trouble)
    expect(error.message).toMatch(
      /^the run of "exit always .*", replication 2, .* failed twice: worker exited/,
    )
    expect(finished).toContain(0)
  })

  it('twice by a fault of the program shows where the fault is', async () => {
    const error = await carried(carrierWorkers(1, watching().watch, DYING), deadly('throw', 'always')).catch(
      thrown => thrown,
    )
    expect(error).not.toBeInstanceOf(Trouble)
    expect(error.message).toContain('failed twice: x is undefined')
    expect(error.stack).toContain('dying-worker.ts')
  })
})
