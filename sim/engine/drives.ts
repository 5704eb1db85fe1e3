import { CUSTOMERS, type Signals, SUPPLIERS } from './signals.ts'
import type { Station } from './station.ts'

/**
 * The two drives. Same stations, same streams, same acts in the same order per station:
 * the results agree to the last bit. Both act up to, not including, `limit`.
 *
 * @returns false when the line is at rest: nothing is pending before the end of time
 */
export type Drive = (stations: readonly Station[], limit: number) => boolean

/** Acts per visit: keeps what a station touches in the cache without visiting too often. */
const VISIT = 4096

/** Always takes the earliest act of the whole line; at equal times of the station furthest down. */
export const driveStrict: Drive = (stations, limit) => {
  const pending = Float64Array.from(stations, station => station.pending())
  for (;;) {
    const position = earliest(pending)
    if (!(pending[position] < limit)) return finish(stations, limit, pending[position])
    const station = stations[position]
    station.advance(1, limit, true)
    pending[position] = station.pending()
    for (const other of station.suppliers) if (other) pending[other.position] = other.pending()
    for (const other of station.customers) pending[other.position] = other.pending()
    for (const other of station.others) pending[other.position] = other.pending()
  }
}

/**
 * Runs each station as far ahead as is safe. A station is visited again when a neighbour
 * has acted or promises more. When visits move nothing any more, the earliest act of the
 * line is taken as the strict drive would.
 */
export const driveEager: Drive = (stations, limit) => {
  const links = stations.map(linksOf)
  const [{ signals }] = stations
  const near = new VisitStack(stations.length)
  const far = new VisitSweep(stations.length)
  const late = new VisitSweep(stations.length)
  const soon = (position: number) => (stations[position].patient ? late : far).add(position)
  for (const station of stations) far.add(station.position)
  const partners = Int32Array.from(links, ({ partner }) => partner)
  const tellNear = (close: Int32Array) => {
    for (let i = 0; i < close.length; i++) if (minds(close[i], signals)) near.add(close[i] >> 2)
  }
  const patience = PATIENCE * stations.length
  let idle = 0
  for (;;) {
    while (near.count + far.count + late.count > 0 && idle < patience) {
      if (near.count > 0) {
        let position = near.take()
        far.add(position)
        if (stations[position].hurry(limit) === 0) continue
        idle = 0
        // Who hand over to each other without a place between go on by turns.
        const first = position
        let other = partners[position]
        while (other >= 0 && stations[other].hurry(limit) > 0) {
          far.add(other)
          const next = partners[other] === position ? position : -1
          position = other
          other = next
        }
        tellNear(links[first].near)
        if (position !== first) tellNear(links[position].near)
        continue
      }
      const position = far.count > 0 ? far.take() : late.take()
      const station = stations[position]
      signals.grew = false
      const acts = station.advance(VISIT, limit, false)
      if (acts > 0) idle = 0
      else idle++
      // A loop may do some more.
      if (acts >= VISIT) far.add(position)
      if (acts > 0 || signals.grew) {
        const { near: close, far: distant, others } = links[position]
        tellNear(close)
        for (let i = 0; i < distant.length; i++) if (minds(distant[i], signals)) soon(distant[i] >> 2)
        for (let i = 0; i < others.length; i++) if (signals.wants[others[i]] === 1) soon(others[i])
      }
    }
    idle = 0
    const station = firstToAct(stations)
    if (!(station.pending() < limit)) return finish(stations, limit, station.pending())
    station.advance(1, limit, true)
    far.add(station.position)
    const { near: close, far: distant, others } = links[station.position]
    for (const other of [...close, ...distant]) far.add(other >> 2)
    for (const other of others) far.add(other)
  }
}

/** The news of a station matter to this neighbour as it stands. */
function minds(link: number, { hears }: Signals): boolean {
  return (hears[link >> 2] & link & 3) !== 0
}

/**
 * Neighbours with hardly a place between, which are visited first, and the other
 * neighbours, each as 4 x position + what this station is to it (see `Signals.hears`);
 * positions of those with whom something is shared.
 */
interface Links {
  readonly near: Int32Array
  readonly far: Int32Array
  readonly others: Int32Array
  /** The neighbour to whom, or from whom, wafers go by direct hand-over; -1: none, or several. */
  readonly partner: number
}

/** Stations with so few places between them can run ahead of each other by a few wafers only. */
const TIGHT = 8

function linksOf(station: Station): Links {
  const near = new Set<number>()
  const far = new Set<number>()
  const sort = (capacity: number, other: Station | undefined, role: number) => {
    if (other) (capacity <= TIGHT ? near : far).add(4 * other.position + role)
  }
  station.customers.forEach((other, i) => {
    sort(station.outputs[i].capacity, other, SUPPLIERS)
  })
  station.suppliers.forEach((other, i) => {
    sort(station.inputs[i].capacity, other, CUSTOMERS)
  })
  for (const position of near) far.delete(position)
  const others = Int32Array.from(station.others, other => other.position)
  const direct = [
    ...station.suppliers.filter((_, i) => station.inputs[i].direct),
    ...station.customers.filter((_, i) => station.outputs[i].direct),
  ]
  const partner = direct.length === 1 && direct[0] ? direct[0].position : -1
  return { near: Int32Array.from(near), far: Int32Array.from(far), others, partner }
}

/** Visits in vain, per station, after which the promises are taken to creep: two idle stations may raise each other's by a tick at a time. */
const PATIENCE = 4

/** Stations to be visited, last come first served, each once. */
class VisitStack {
  count = 0
  private readonly stack: Int32Array
  private readonly waits: Uint8Array

  constructor(stations: number) {
    this.stack = new Int32Array(stations)
    this.waits = new Uint8Array(stations)
  }

  add(position: number): void {
    if (this.waits[position] === 1) return
    this.waits[position] = 1
    this.stack[this.count++] = position
  }

  take(): number {
    const position = this.stack[--this.count]
    this.waits[position] = 0
    return position
  }
}

/** Stations to be visited, down the route and up again: what a station puts down is still warm when the next takes it. */
class VisitSweep {
  count = 0
  private at = 0
  private step = 1
  private readonly waits: Uint8Array

  constructor(private readonly stations: number) {
    this.waits = new Uint8Array(stations)
  }

  add(position: number): void {
    this.count += 1 - this.waits[position]
    this.waits[position] = 1
  }

  take(): number {
    while (this.waits[this.at] === 0) {
      if (this.at + this.step < 0 || this.at + this.step >= this.stations) this.step = -this.step
      this.at = Math.min(Math.max(this.at + this.step, 0), this.stations - 1)
    }
    this.waits[this.at] = 0
    this.count--
    return this.at
  }
}

/** The station whose act is the next in the order of the line. */
function firstToAct(stations: readonly Station[]): Station {
  let station = stations[stations.length - 1]
  let time = station.pending()
  for (let s = stations.length - 2; s >= 0; s--) {
    const next = stations[s].pending()
    if (next < time) {
      time = next
      station = stations[s]
    }
  }
  for (let other = station.yieldsTo(); other; other = station.yieldsTo()) station = other
  return station
}

function earliest(pending: Float64Array): number {
  let best = 0
  for (let s = 1; s < pending.length; s++) if (pending[s] <= pending[best]) best = s
  return best
}

function finish(stations: readonly Station[], limit: number, next: number): boolean {
  for (const station of stations) station.closeBlocks(limit)
  return next < Infinity
}
