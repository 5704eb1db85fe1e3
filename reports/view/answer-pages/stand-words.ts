import type { StepStand } from '../../../sim/study/designs/stand.ts'

/** The states that studies of designs tell apart, in the order in which they are drawn. */
export const STATES = ['productive', 'starved', 'blocked', 'down', 'off'] as const

export const STATE_WORDS = {
  productive: 'productive',
  starved: 'starved (nothing to work on)',
  blocked: 'blocked (no place behind it)',
  down: 'down',
  off: 'non-scheduled',
} as const

export const STATE_TONES = {
  productive: 'productive',
  starved: 'starved',
  blocked: 'blocked',
  down: 'unscheduledDown',
  off: 'nonScheduled',
} as const

/** The states that occur. */
export function statesIn(stand: readonly StepStand[]): readonly (typeof STATES)[number][] {
  return STATES.filter(state => stand.some(step => step.states[state].mean > 0))
}
