/** A station at which wafers leave what the cap counts. */
interface Leaving {
  /** Before this tick none leaves that is not recorded. */
  departsNotBefore(): number
}

/** When wafers have left one station, oldest first, as far as the cap has not used them. */
class Ring {
  count = 0
  private head = 0
  private times = new Float64Array(64)

  add(time: number): void {
    if (this.count === this.times.length) this.grow()
    this.times[(this.head + this.count++) & (this.times.length - 1)] = time
  }

  first(): number {
    return this.times[this.head]
  }

  takeFirst(): void {
    this.head = (this.head + 1) & (this.times.length - 1)
    this.count--
  }

  private grow(): void {
    const old = this.times
    this.times = new Float64Array(old.length * 2)
    this.times.set(old.subarray(this.head))
    this.times.set(old.subarray(0, this.head), old.length - this.head)
    this.head = 0
  }
}

/**
 * The wafers that have left what a cap counts, in order of time over all stations: each
 * makes room for one to enter. Never more are waiting to be used than the cap allows.
 */
export class Departures {
  private readonly rings: readonly Ring[]
  private readonly index: ReadonlyMap<Leaving, number>

  constructor(private readonly stations: readonly Leaving[]) {
    this.rings = stations.map(() => new Ring())
    this.index = new Map(stations.map((station, i) => [station, i]))
  }

  add(station: Leaving, time: number): void {
    this.rings[this.index.get(station) as number].add(time)
  }

  /** Time of the first departure that is recorded and not used; Infinity when there is none. */
  first(): number {
    let first = Infinity
    for (const ring of this.rings) if (ring.count > 0) first = Math.min(first, ring.first())
    return first
  }

  useFirst(): void {
    const first = this.first()
    this.rings.find(ring => ring.count > 0 && ring.first() === first)?.takeFirst()
  }

  /** Before this tick no departure happens that is not recorded. */
  notBefore(): number {
    let bound = Infinity
    for (let i = 0; i < this.stations.length; i++) {
      if (this.rings[i].count === 0) bound = Math.min(bound, this.stations[i].departsNotBefore())
    }
    return bound
  }
}
