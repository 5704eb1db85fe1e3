import { Piscina } from 'piscina'
import type { Rows } from '../../sim/measure/rows.ts'
import type { Job } from '../../sim/study/jobs.ts'
import type { Carrier, Watch } from './carrier.ts'
import { jobText, Trouble } from './trouble.ts'
import { type Task, WHOLE } from './worker.ts'

/** How often the program looks at its workers [ms]. */
const LOOK = 100

/** The worker beside this file: as source, or compiled. The compiler does not rewrite the ending of a URL. */
const WORKER = new URL(`./worker${import.meta.url.endsWith('.ts') ? '.ts' : '.js'}`, import.meta.url)

/** A module with a function `work`, and the memory that its threads may take. */
export interface WorkerKind {
  readonly module?: URL
  readonly megabytes?: number
}

/**
 * Does jobs on worker threads. A worker that dies is reported with the run it had, and
 * that run is tried once more on another.
 *
 * @param count worker threads
 * @param kind what differs in a test: the module of the worker, the memory of each [MB]
 */
export function carrierWorkers(count: number, watch: Watch, kind: WorkerKind = {}): Carrier {
  const { module: worker = WORKER, megabytes } = kind
  const sources = worker.pathname.endsWith('.ts')
  const pool = new Piscina({
    filename: worker.href,
    name: 'work',
    minThreads: 0,
    maxThreads: count,
    idleTimeout: 10_000,
    ...(megabytes !== undefined && { resourceLimits: { maxOldGenerationSizeMb: megabytes } }),
    ...(sources && { execArgv: ['--import', loaderOfSources()] }),
  })
  pool.on('error', () => {
    // Said by the job that it stops.
  })

  async function done(task: Task): Promise<Rows> {
    try {
      return await pool.run(task)
    } catch (first) {
      if (ended) throw first
      watch.note(`the worker with ${jobText(task.job)} died (${causeOf(first)}); that run is tried once more`)
      Atomics.store(task.shares, task.index, 0)
      return pool.run(task).catch(second => {
        throw twice(task.job, second)
      })
    }
  }

  let ended = false
  return {
    async carry(jobs, finished) {
      const shares = new Int32Array(new SharedArrayBuffer(4 * jobs.length))
      const all = Promise.all(
        jobs.map(async (job, index) => {
          const rows = await done({ job, shares, index })
          Atomics.store(shares, index, WHOLE)
          if (!ended) finished(index, rows)
        }),
      )
      await watched(all, jobs, shares, watch)
    },
    async end() {
      ended = true
      await pool.destroy()
    },
  }
}

/** Waits for the end of all jobs, with an eye on progress and on interrupts. */
async function watched(
  all: Promise<unknown>,
  jobs: readonly Job[],
  shares: Int32Array,
  watch: Watch,
): Promise<void> {
  let going = true
  // Looked at again below; without this a rejection between two looks would count as unhandled.
  const over = all.then(
    () => {
      going = false
    },
    () => {
      going = false
    },
  )
  while (going) {
    await Promise.race([over, new Promise(resolve => setTimeout(resolve, LOOK))])
    const done = shares.reduce((sum, share) => sum + share, 0) / WHOLE
    const now = shares.findIndex(share => share < WHOLE)
    watch.progress(done, jobs[now < 0 ? jobs.length - 1 : now])
    await watch.breathe()
  }
  await all
}

/**
 * A module that has a thread read TypeScript, which it does not inherit, as what it is. The
 * loader's own would have it rewritten for `require`, which the pool tries first: then every
 * constant of another module is looked up at each use, and a run takes twice as long. (What
 * it does so with lets memory grow that a typed array looks at: see `work`.)
 */
export function loaderOfSources(): string {
  const loader = JSON.stringify(import.meta.resolve('tsx/esm/api'))
  return `data:text/javascript,import { register } from ${loader}; register()`
}

function causeOf(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException
  return code === 'ERR_WORKER_OUT_OF_MEMORY' ? 'out of memory' : message
}

/** A run that fails the same way on two workers: memory or a sudden end is told in words, a fault of ours thrown on. */
function twice(job: Job, error: unknown): Error {
  const { code, message, stack } = error as NodeJS.ErrnoException
  if (code === 'ERR_WORKER_OUT_OF_MEMORY' || /^worker exited/i.test(message))
    return new Trouble(`the run of ${jobText(job)} failed twice: ${causeOf(error)}`)
  const fault = new Error(`the run of ${jobText(job)} failed twice: ${message}`)
  if (stack !== undefined) fault.stack = stack
  return fault
}
