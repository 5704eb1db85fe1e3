import { move, transferableSymbol, valueSymbol } from 'piscina'
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

/** Carries out one job in a worker. @returns its rows; their memory is handed over, not copied */
export function work({ job, shares, index }: Task): unknown {
  const steps = carryOut(job)
  for (;;) {
    const { value, done } = steps.next()
    if (done) return move({ [transferableSymbol]: buffersIn(value), [valueSymbol]: value } as never)
    Atomics.store(shares, index, Math.round(value * WHOLE))
  }
}

/** The memory of all typed arrays inside plain data. */
function buffersIn(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>()
  const visit = (item: unknown) => {
    if (ArrayBuffer.isView(item)) found.add(item.buffer as ArrayBuffer)
    else if (typeof item === 'object' && item !== null) Object.values(item).forEach(visit)
  }
  visit(value)
  return [...found]
}
