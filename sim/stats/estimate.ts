/** A figure and how sure it is. `low` and `high` are absent when n = 1. */
export interface Estimate {
  readonly mean: number
  /** Ends of the Student-t interval at the study's level. */
  readonly low?: number
  readonly high?: number
  /** Replications behind it. */
  readonly n: number
}
