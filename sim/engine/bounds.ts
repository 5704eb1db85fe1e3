/**
 * How far it is known of several stations that none of them does something that is not
 * recorded yet. What a station has promised once holds, so its last answer is kept, and
 * only the one of which least is known is asked anew, until it knows no more.
 */
export class Bounds {
  private readonly known: Float64Array

  /** @param ask per station: before which tick it does nothing of the kind */
  constructor(private readonly ask: readonly (() => number)[]) {
    this.known = new Float64Array(ask.length)
  }

  /**
   * The smallest bound over all stations; Infinity when there are none.
   *
   * @param enough what the caller wants to know: at a bound above it nobody is asked any more
   * @param recorded per station: left out where it is finite
   */
  least(enough: number, recorded?: Float64Array): number {
    for (;;) {
      const slowest = this.slowest(recorded)
      if (slowest < 0) return Infinity
      const known = this.known[slowest]
      if (known > enough) return known
      const bound = this.ask[slowest]()
      if (!(bound > known)) return known
      this.known[slowest] = bound
    }
  }

  /** What was known of a station holds no longer: it may act from `time` on. */
  forget(station: number, time: number): void {
    this.known[station] = time
  }

  private slowest(recorded?: Float64Array): number {
    const { known } = this
    let slowest = -1
    for (let i = 0; i < known.length; i++) {
      if (recorded && recorded[i] < Infinity) continue
      if (slowest < 0 || known[i] < known[slowest]) slowest = i
    }
    return slowest
  }
}
