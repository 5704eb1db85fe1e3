import { Tail } from './tail.ts'

/** A station at which wafers leave what the cap counts. */
interface Leaving {
  /** Before this tick none leaves that is not recorded. */
  departsNotBefore(): number
}

/**
 * The wafers that have left what a cap counts, in order of time over all stations: each
 * makes room for one to enter. Never more are waiting to be used than the cap allows.
 */
export class Departures {
  /** Per station, when wafers have left it, oldest first; the first number of each is not used. */
  private readonly left: readonly Tail[]

  /** The feed waits for a wafer to leave: only then what the stations promise matters to it. */
  wanted = false

  private readonly bounds: Float64Array

  constructor(private readonly stations: readonly Leaving[]) {
    this.left = stations.map(() => new Tail(64))
    this.bounds = new Float64Array(stations.length)
  }

  /** Where the station writes down when wafers leave it. */
  of(station: Leaving): Tail {
    return this.left[this.stations.indexOf(station)]
  }

  /** Time of the first departure that is recorded and not used; Infinity when there is none. */
  first(): number {
    let first = Infinity
    for (const left of this.left) first = Math.min(first, left.nextExit())
    return first
  }

  useFirst(): void {
    const first = this.first()
    this.left.find(left => left.nextExit() === first)?.takeFirst()
  }

  /**
   * Before this tick no departure happens that is not recorded. Bounds only grow, so the
   * last one of each station holds still: the smallest is asked for anew until it stays.
   */
  notBefore(): number {
    for (;;) {
      const slowest = this.slowest()
      if (slowest < 0) return Infinity
      const bound = this.stations[slowest].departsNotBefore()
      if (!(bound > this.bounds[slowest])) return this.bounds[slowest]
      this.bounds[slowest] = bound
    }
  }

  /** The station of which least is known, among those without a departure recorded. */
  private slowest(): number {
    let slowest = -1
    for (let i = 0; i < this.stations.length; i++)
      if (this.left[i].count === 0 && (slowest < 0 || this.bounds[i] < this.bounds[slowest])) slowest = i
    return slowest
  }
}
