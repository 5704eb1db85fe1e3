import { Bounds } from './bounds.ts'
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
  /** The oldest of each station, Infinity when there is none. */
  private readonly heads: Float64Array
  private readonly bounds: Bounds

  /** The feed waits for a wafer to leave: only then what the stations promise matters to it. */
  wanted = false

  constructor(stations: readonly Leaving[]) {
    this.left = stations.map(() => new Tail(64))
    this.heads = new Float64Array(stations.length).fill(Infinity)
    this.bounds = new Bounds(stations.map(station => () => station.departsNotBefore()))
  }

  /** A wafer has left the station of this number. */
  add(station: number, time: number): void {
    if (this.left[station].count === 0) this.heads[station] = time
    this.left[station].add(0, time)
  }

  /** Time of the first departure that is recorded and not used; Infinity when there is none. */
  first(): number {
    return this.heads[this.earliest()]
  }

  useFirst(): void {
    const station = this.earliest()
    this.left[station].takeFirst()
    this.heads[station] = this.left[station].nextExit()
  }

  private earliest(): number {
    const { heads } = this
    let first = 0
    for (let i = 1; i < heads.length; i++) if (heads[i] < heads[first]) first = i
    return first
  }

  /**
   * Before this tick no departure happens that is not recorded: a station of which one is
   * recorded says nothing earlier.
   *
   * @param enough what the caller wants to know: what is beyond is not looked for
   */
  notBefore(enough = Infinity): number {
    return this.bounds.least(enough, this.heads)
  }
}
