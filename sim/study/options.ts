/** How to run a study. Times in days, shares as fractions. */
export interface RunOptions {
  /** Simulated days per replication. */
  readonly days: number
  readonly replications: number
  readonly seed: string
  readonly drive: 'strict' | 'eager'
  /** Wanted half-width of the interval of good output, relative (0.005 = 0.5 %). Adds replications up to `cap`. */
  readonly precision?: number
  readonly cap: number
  /** Level of the intervals, e.g. 0.95. */
  readonly level: number
  /** Version of the program, printed with the result. */
  readonly version: string
}

/** What a study asks of the program around it. It has no clock and no event loop of its own. */
export interface StudyHooks {
  /** Called now and then with the share done, 0 to 1, and what is being done. */
  progress?(share: number, what: string): void
  /** Lets the program around breathe (events, Ctrl-C). Called often; may reject to end the study. */
  pause?(): Promise<void>
}
