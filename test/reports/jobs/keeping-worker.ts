import { work as carryOut, type Task } from '../../../reports/jobs/worker.ts'

let kept: unknown

/** The worker, but that it fails when the memory of what it has returned is no longer there. */
export function work(task: Task): unknown {
  if (kept !== undefined && !hasMemory(kept)) throw new Error('memory has been handed over')
  kept = carryOut(task)
  return kept
}

/** Whether the typed arrays inside plain data have their memory: all are empty once it has been handed over. */
function hasMemory(value: unknown): boolean {
  const lengths: number[] = []
  const visit = (item: unknown) => {
    if (ArrayBuffer.isView(item)) lengths.push(item.byteLength)
    else if (typeof item === 'object' && item !== null) Object.values(item).forEach(visit)
  }
  visit(value)
  return lengths.some(length => length > 0)
}
