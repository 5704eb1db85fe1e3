import { work as carryOut, type Task } from '../../../reports/jobs/worker.ts'

declare const module: unknown

/** The worker, but that it fails when it has been rewritten for `require`. */
export function work(task: Task): unknown {
  if (typeof module !== 'undefined') throw new Error('rewritten')
  return carryOut(task)
}
