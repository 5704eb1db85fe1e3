import type { Estimate } from '../../stats/estimate.ts'

/** What an interval says of the sign of a difference. */
export type Shown = 'more' | 'less' | 'no difference shown'

/**
 * By the interval: zero inside it, or no interval, is no difference shown. An interval of what is
 * counted is never narrower than a cell more or less (`resolutionOf`), so neither two that are equal in
 * every replication differ, nor two that differ by what the edges of the window let in.
 */
export function shown({ low, high }: Estimate): Shown {
  if (low === undefined || high === undefined) return 'no difference shown'
  return low > 0 ? 'more' : high < 0 ? 'less' : 'no difference shown'
}
