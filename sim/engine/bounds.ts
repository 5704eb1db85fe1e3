/**
 * How far it is known of several stations that none of them does something that is not
 * recorded yet. What a station has promised once holds, so its last answer is kept, and
 * only the one of which least is known is asked anew, until it knows no more.
 */
export class Bounds {
  private readonly known: Float64Array
  /** 1: left out. */
  private readonly out: Uint8Array
  /** The station of which least is known of those that are not left out; -1: none; -2: to be found. */
  private slowest = -2

  /** @param ask per station: before which tick it does nothing of the kind */
  constructor(private readonly ask: readonly (() => number)[]) {
    this.known = new Float64Array(ask.length)
    this.out = new Uint8Array(ask.length)
  }

  /**
   * The smallest bound over all stations that are not left out; Infinity when there are none.
   *
   * @param enough what the caller wants to know: at a bound above it nobody is asked any more
   */
  least(enough: number): number {
    for (;;) {
      if (this.slowest === -2) this.slowest = this.find()
      const { slowest } = this
      if (slowest < 0) return Infinity
      const known = this.known[slowest]
      if (known > enough) return known
      const bound = this.ask[slowest]()
      if (!(bound > known)) return known
      this.known[slowest] = bound
      this.slowest = -2
    }
  }

  /** What was known of a station holds no longer: it may act from `time` on. */
  forget(station: number, time: number): void {
    this.known[station] = time
    this.slowest = -2
  }

  /** The station does not count until it is let in again. */
  leaveOut(station: number): void {
    this.out[station] = 1
    if (station === this.slowest) this.slowest = -2
  }

  letIn(station: number): void {
    this.out[station] = 0
    const { slowest, known } = this
    if (slowest === -1 || (slowest >= 0 && known[station] < known[slowest])) this.slowest = station
  }

  private find(): number {
    const { known, out } = this
    let slowest = -1
    for (let i = 0; i < known.length; i++)
      if (out[i] === 0 && (slowest < 0 || known[i] < known[slowest])) slowest = i
    return slowest
  }
}
