import type { FirstSpan, Stop } from './types.ts'

/** Whether first times are spread, so that a run has as many of these stops from the beginning as later. */
export function isSpread(first: Stop['first']): boolean {
  return first === 'at random' || isSpan(first)
}

export function isSpan(first: Stop['first']): first is FirstSpan {
  return typeof first === 'object' && 'from' in first
}
