import { isPlainObject } from '../base/plain.ts'
import type { Line } from './types.ts'

/**
 * The line as text that is the same for the same data, however it was written: JSON
 * with sorted keys, without blanks and without keys that hold nothing. For hashing.
 *
 * Lanes given as an object, crews and fleets keep their order (as lists of pairs), for it
 * decides ties between them; lists keep theirs.
 */
export function canonicalText(line: Line): string {
  return stableText(line)
}

/** Keys whose entries stand in an order that counts. */
const ORDERED = ['lanes', 'crews', 'fleets']

/** Any plain data as text with sorted keys. */
export function stableText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(stableText).join(',')}]`
  if (!isPlainObject(value)) return JSON.stringify(value) ?? 'null'
  const fields = Object.keys(value)
    .filter(key => value[key] !== undefined)
    .sort()
    .map(
      key =>
        `${JSON.stringify(key)}:${ORDERED.includes(key) ? orderedText(value[key]) : stableText(value[key])}`,
    )
  return `{${fields.join(',')}}`
}

function orderedText(value: unknown): string {
  return isPlainObject(value) ? stableText(Object.entries(value)) : stableText(value)
}
