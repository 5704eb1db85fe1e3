/** What a tool is stopped by, on a tool that never waits for wafers or for a place. */
export interface WalkedClock {
  /** The next interval, from the end of one such stop (or of what renews it) to the next, above 0; a belt must work for so long before one that goes in now would reach the end behind no gap. */
  readonly draw: (gap: number) => number
  /** Work by which a belt is emptied while the tool is down for it. */
  readonly empties?: number
  /** It goes on while the tool is down for another stop. */
  readonly always: boolean
  /** How long the tool is down for it. */
  readonly lasts: number
  /** Others whose clocks start anew when it is over; its own always does. */
  readonly renews: readonly number[]
}

export interface WalkOptions {
  /** How fast the clocks that always go run while the tool works, or is down [times as fast]. Default 1. */
  readonly pace?: number
  /** Work after which an empty belt is full. Default 0. */
  readonly transit?: number
  /** What is left of the interval of each when the walk begins; else a whole one. */
  readonly begins?: readonly number[]
}

/**
 * The clocks of one tool from stop to stop, none of them run down when the walk begins. Where
 * clocks start one another anew there is no formula for how often each strikes, but for two of
 * them (Barlow & Proschan 1965, Mathematical Theory of Reliability, chapters 3 and 4, from memory), so they are followed.
 */
export class ClockWalk {
  /** Time that the tool has worked, and time by the clocks that always go. */
  worked = 0
  passed = 0
  /** When each is due, by its own time. */
  private readonly due: Float64Array
  private readonly always: Uint8Array

  /** Until then, by `worked`, there are gaps on a belt. */
  private fullFrom = 0
  private readonly pace: number
  private readonly transit: number

  constructor(
    private readonly clocks: readonly WalkedClock[],
    { pace = 1, transit = 0, begins }: WalkOptions = {},
  ) {
    this.pace = pace
    this.transit = transit
    this.due = Float64Array.from(clocks, ({ draw }, c) => begins?.[c] ?? draw(0))
    this.always = Uint8Array.from(clocks, ({ always }) => Number(always))
  }

  /** What is left of the interval of a clock; 0: due. */
  left(clock: number): number {
    return Math.max(0, this.due[clock] - (this.always[clock] === 1 ? this.passed : this.worked))
  }

  /**
   * Goes on to the end of the next stop, or until the tool has worked for so long. What is due at the same
   * moment comes one after the other, the first in the list first.
   *
   * @returns the clock that has struck; -1: none before
   */
  next(most = Infinity): number {
    const { due, always, worked, passed, pace } = this
    let first = -1
    let work = most
    for (let c = 0; c < due.length; c++) {
      const until = always[c] === 1 ? (due[c] - passed) / pace : due[c] - worked
      if (until >= work) continue
      work = until
      first = c
    }
    // What fell due while the tool was down comes at once.
    work = Math.max(0, work)
    this.worked += work
    this.passed += work * pace
    if (first >= 0) this.strike(first)
    return first
  }

  /** Goes on until the tool has worked for so long. */
  work(span: number): void {
    const end = this.worked + span
    while (this.worked < end && this.next(end - this.worked) >= 0);
  }

  private strike(clock: number): void {
    const { lasts, renews, empties = 0 } = this.clocks[clock]
    this.passed += lasts * this.pace
    this.fullFrom = this.worked + Math.min(this.transit, this.gap() + empties)
    this.start(clock)
    for (const other of renews) this.start(other)
  }

  private gap(): number {
    return Math.max(0, this.fullFrom - this.worked)
  }

  /** A clock starts anew. */
  start(clock: number): void {
    const now = this.always[clock] === 1 ? this.passed : this.worked
    this.due[clock] = now + this.clocks[clock].draw(this.gap())
  }
}
