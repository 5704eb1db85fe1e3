import type { Rows } from '../../sim/measure/rows.ts'
import type { Ahead, Job, Runner } from '../../sim/study/jobs.ts'
import type { Carrier } from './carrier.ts'
import { jobKey } from './identity.ts'
import type { Journal, ReadJournal } from './journal.ts'
import { type Shard, shareOf } from './shard.ts'
import { RunsMissing, ShareDone } from './trouble.ts'

/** What a runner of a study works with. */
export interface RunnerParts {
  /** Does the jobs; without one, runs can only be read. */
  readonly carrier?: Carrier
  /** Keeps what is finished. */
  readonly journal?: Journal
  /** Where finished runs may lie besides, such as those of other shares. */
  readonly others?: readonly ReadJournal[]
  /** Only this share of the runs is simulated. */
  readonly shard?: Shard
  /** Told before the runs of a round are simulated: runs known so far, those there already, those simulated now. */
  readonly round?: (count: RoundCount) => void
}

export interface RoundCount {
  readonly known: number
  readonly there: number
  readonly toDo: number
  /** Runs that the study will ask for after this round, of all shares. */
  readonly ahead: Ahead
}

/** A job with its name and its number within the study. */
interface Named {
  readonly job: Job
  readonly key: string
  readonly run: number
}

/**
 * Carries out the jobs of a study, round after round. A run that a journal holds is not
 * simulated again. Runs are numbered through the whole study in the order in which they
 * are asked for, the same run once: so a share is the same on every machine.
 *
 * `run` throws `ShareDone` when runs of other shares are missing, `RunsMissing` when there
 * is nobody to simulate.
 */
export function studyRunner(parts: RunnerParts): Runner {
  const numbers = new Map<string, number>()
  let made = 0
  const places = [...(parts.journal ? [parts.journal] : []), ...(parts.others ?? [])]
  const isThere = (key: string) => places.some(place => place.has(key))
  const named = (job: Job): Named => {
    const key = jobKey(job)
    const run = numbers.get(key) ?? numbers.size
    numbers.set(key, run)
    return { job, key, run }
  }
  return {
    async run<Kept>(jobs: readonly Job[], keep: (rows: Rows) => Kept, ahead: Ahead = 0) {
      const all = jobs.map(named)
      const missing = distinct(all).filter(({ key }) => !isThere(key))
      if (parts.carrier === undefined && missing.length > 0)
        throw new RunsMissing(
          missing.map(({ run }) => run),
          numbers.size,
        )
      const mine = missing.filter(({ run }) => isOf(parts.shard, run))
      const complete = mine.length === missing.length
      const there = numbers.size - missing.length
      parts.round?.({ known: numbers.size, there, toDo: mine.length, ahead })
      const fresh = new Map<string, Kept>()
      const finished = (index: number, rows: Rows) => {
        const { key, job } = mine[index]
        parts.journal?.add(key, job, rows)
        if (complete) fresh.set(key, keep(rows))
      }
      if (mine.length > 0)
        await parts.carrier?.carry(
          mine.map(({ job }) => job),
          finished,
        )
      made += mine.length
      if (!complete) throw new ShareDone(numbers.size, there + mine.length, made)
      return all.map(({ key }) => (fresh.has(key) ? (fresh.get(key) as Kept) : keep(found(places, key))))
    },
  }
}

function distinct(all: readonly Named[]): Named[] {
  return [...new Map(all.map(one => [one.key, one])).values()]
}

function isOf(shard: Shard | undefined, run: number): boolean {
  return shard === undefined || shareOf(run, shard.count) === shard.index
}

function found(places: readonly ReadJournal[], key: string): Rows {
  for (const place of places) {
    const rows = place.find(key)
    if (rows !== undefined) return rows
  }
  throw new Error(`run ${key} is in no journal`)
}
