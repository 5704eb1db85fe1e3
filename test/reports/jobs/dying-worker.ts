import { existsSync, writeFileSync } from 'node:fs'
import { work as honest, type Task } from '../../../reports/jobs/worker.ts'

/**
 * A worker that dies over some runs. The label of a job says how and how often: "exit once
 * FILE" ends the worker the first time, and leaves FILE behind to know of it.
 */
export function work(task: Task): unknown {
  const [how, often, file] = task.job.label.split(' ')
  const again = often === 'once' && existsSync(file)
  if (often === 'once') writeFileSync(file, '')
  if (!again) die(how)
  return honest(task)
}

function die(how: string): void {
  if (how === 'throw') throw new TypeError('x is undefined')
  if (how === 'exit') process.exit(3)
  if (how === 'memory') fillMemory()
  if (how === 'loop') for (;;);
}

function fillMemory(): never {
  const all: number[][] = []
  for (;;) all.push(new Array(1e5).fill(all.length))
}
