import { Bounds } from './bounds.ts'
import type { Station } from './station.ts'
import { Tail } from './tail.ts'

/** When one has left. */
const ONE = new Float64Array(1)

/** A station at which wafers leave what a cap counts. */
interface Leaving extends Station {
  /** Before this tick none leaves what these departures are of that is not recorded. */
  departsNotBefore(departures: Departures): number
}

/**
 * The wafers that have left what a cap counts, in order of time over all stations: each
 * makes room for one to enter. Never more are waiting to be used than the cap allows.
 */
export class Departures {
  /** Per station, when wafers have left it, oldest first; the first number of each is not used. */
  private readonly left: readonly Tail[]
  /** The oldest of each station, Infinity when there is none. */
  private readonly heads: Float64Array
  /** The station of the oldest of all; -1: to be found. No other has one before `others`. */
  private front = -1
  private others = Infinity
  private readonly bounds: Bounds

  /**
   * @param owner station that waits for departures; its own are always recorded
   * @param until step that ends the count when it takes a wafer; -1: none
   * @param column of the wafer table that says which wafers are counted; -1: all that have not left yet
   */
  constructor(
    readonly owner: Station,
    stations: readonly Leaving[],
    readonly until: number,
    readonly column: number,
  ) {
    this.left = stations.map(() => new Tail(64))
    this.heads = new Float64Array(stations.length).fill(Infinity)
    this.bounds = new Bounds(
      stations.map(station => () => (station === owner ? Infinity : station.departsNotBefore(this))),
    )
  }

  /** A wafer has left the station of this number. */
  add(station: number, time: number): void {
    if (this.left[station].count === 0) {
      this.heads[station] = time
      this.bounds.leaveOut(station)
      if (this.front >= 0 && time < this.heads[this.front]) this.front = -1
      else this.others = Math.min(this.others, time)
    }
    this.left[station].add(0, time)
  }

  /** Time of the first departure that is recorded and not used; Infinity when there is none. */
  first(): number {
    return this.heads[this.earliest()]
  }

  useFirst(): void {
    this.useRun(Infinity, Infinity, ONE)
  }

  /**
   * Uses departures, as long as the first of all comes from the same station, by `known` and before `end`.
   *
   * @param times takes when each was, as many as fit
   * @returns departures used
   */
  useRun(known: number, end: number, times: Float64Array): number {
    const station = this.earliest()
    const left = this.left[station]
    const until = Math.min(known, this.others)
    let used = 0
    let next = this.heads[station]
    // The first may come with others at the same tick.
    while (used < times.length && next < end && (used === 0 ? next <= known : next <= until)) {
      times[used++] = next
      next = used < left.count ? left.exitOf(used) : Infinity
    }
    left.dropFirst(used)
    this.heads[station] = next
    if (next === Infinity) this.bounds.letIn(station)
    if (next > this.others) this.front = -1
    return used
  }

  private earliest(): number {
    if (this.front >= 0) return this.front
    const { heads } = this
    let first = 0
    let others = Infinity
    for (let i = 1; i < heads.length; i++)
      if (heads[i] < heads[first]) {
        others = heads[first]
        first = i
      } else if (heads[i] < others) others = heads[i]
    this.front = first
    this.others = others
    return first
  }

  /**
   * Before this tick no departure happens that is not recorded: a station of which one is
   * recorded says nothing earlier.
   *
   * @param enough what the caller wants to know: what is beyond is not looked for
   */
  notBefore(enough = Infinity): number {
    return this.bounds.least(enough)
  }
}
