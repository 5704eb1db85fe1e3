/** What a tool is stopped by, on a tool that never waits for wafers or for a place. */
export interface WalkedClock {
  /** The next interval, from the end of one such stop to the next, above 0. */
  readonly draw: () => number
  /** It goes on while the tool is down for another stop. */
  readonly always: boolean
  /** How long the tool is down for it. */
  readonly lasts: number
  /** Others whose clocks start anew when it is over; its own always does. */
  readonly renews: readonly number[]
}

/**
 * The clocks of one tool from stop to stop, none of them run down when the walk begins. Where
 * clocks start one another anew there is no formula for how often each strikes, but for two of
 * them (Barlow & Proschan 1965, Mathematical Theory of Reliability, chapters 3 and 4, from memory), so they are followed.
 */
export class ClockWalk {
  /** What is left of the interval of each; 0 or less: due. */
  readonly left: Float64Array
  /** Time that the tool has worked, and time by the clocks that always go. */
  worked = 0
  passed = 0

  /** @param pace how fast the clocks that always go run while the tool works, or is down [times as fast] */
  constructor(
    private readonly clocks: readonly WalkedClock[],
    private readonly pace = 1,
  ) {
    this.left = Float64Array.from(clocks, ({ draw }) => draw())
  }

  /**
   * Goes on to the end of the next stop, or until the tool has worked for so long. What is due at the same
   * moment comes one after the other, the first in the list first.
   *
   * @returns the clock that has struck; -1: none before
   */
  next(most = Infinity): number {
    let first = -1
    let work = most
    for (let c = 0; c < this.clocks.length; c++) {
      const until = Math.max(0, this.left[c]) / (this.clocks[c].always ? this.pace : 1)
      if (until >= work) continue
      work = until
      first = c
    }
    this.worked += work
    this.goOn(work * this.pace, work)
    if (first >= 0) this.strike(first)
    return first
  }

  private strike(clock: number): void {
    const { draw, lasts, renews } = this.clocks[clock]
    this.goOn(lasts * this.pace, 0)
    this.left[clock] = draw()
    for (const other of renews) this.left[other] = this.clocks[other].draw()
  }

  private goOn(passed: number, worked: number): void {
    this.passed += passed
    for (let c = 0; c < this.clocks.length; c++) this.left[c] -= this.clocks[c].always ? passed : worked
  }
}
