import type { Line } from '../../sim/line/types.ts'

/** Of a line: people, hours, what is shared, money. */
const OF_LINE = ['crews', 'fleets', 'calendar', 'events', 'cap', 'target', 'money', 'sizing', 'variants']

/** Of its parts: who comes, when a stop may wait, what wafers carry, boats and dummies, boxes. */
const OF_PARTS = [
  ...['skill', 'people', 'priority', 'waits', 'overdue', 'setUpWafers', 'warmUp'],
  ...['timeLimits', 'effect', 'heldUp', 'drift', 'defects', 'recipes', 'recipe', 'finds'],
  ...['boats', 'dummies', 'cap', 'boxes', 'colours'],
]

/**
 * A line with its machines alone: steps, lanes, buffers and conveyors, stops that end by
 * themselves, breakage, rework, tests and bins. Where carriers go, wafers step over.
 */
export function machinesOnly(line: Line): Line {
  const kept = Object.entries(line).filter(([key]) => !OF_LINE.includes(key))
  return bare({ ...Object.fromEntries(kept), line: `${line.line}, machines only` }) as Line
}

function bare(part: unknown): unknown {
  if (Array.isArray(part)) return part.filter(item => !isLeftOut(item)).map(bare)
  if (typeof part !== 'object' || part === null) return part
  return Object.fromEntries(
    Object.entries(part)
      .filter(([key]) => !OF_PARTS.includes(key))
      .map(([key, value]) => [key, bare(value)]),
  )
}

/** Carriers, and stops after idleness. */
function isLeftOut(item: unknown): boolean {
  return typeof item === 'object' && item !== null && ('carriers' in item || 'afterIdle' in item)
}
