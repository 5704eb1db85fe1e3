/** Names that the program itself gives to rows of its results. Nothing of a scenario may be called the same. */

/** What takes a tool down without a stop of its own in the scenario. */
export const OWN_STOPS = {
  closed: 'closed',
  clearing: 'clearing of shards',
  'warm-up': 'warm-up after a long stop',
  coating: 'coating of a boat',
} as const

/** Where wafers are handed on without a store. */
export const HAND_OVER = 'hand-over'

/** The column of all places together. */
export const IN_THE_LINE = 'in the line'

/** The design that is compared with the variants. */
export const AS_IT_IS = 'as it is'

/** Where wafers wait that come back by cart. */
export function reworkPlace(step: string): string {
  return `rework of ${step}`
}

export function latePlace(step: string): string {
  return `late for ${step}`
}
