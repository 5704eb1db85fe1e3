import type { StateShares } from '../../sim/study/run-study.ts'

/** A state of a tool, as a key of the results. */
export type StateKey = keyof StateShares

/** The states in the order of their numbers in a recording. */
export const STATE_KEYS: readonly StateKey[] = [
  'productive',
  'starved',
  'blocked',
  'unscheduledDown',
  'scheduledDown',
  'waitingForCrew',
  'engineering',
  'nonScheduled',
]

/** Names for a reader. */
export const STATE_NAMES: Readonly<Record<StateKey, string>> = {
  productive: 'productive',
  starved: 'starved (nothing to work on)',
  blocked: 'blocked (no place behind it)',
  unscheduledDown: 'down, unscheduled',
  scheduledDown: 'down, scheduled',
  waitingForCrew: 'down, waiting for crew',
  engineering: 'engineering',
  nonScheduled: 'non-scheduled',
}
