import type { Signals } from './signals.ts'
import * as Roles from './signals.ts'
import type { Station } from './station.ts'

const { CUSTOMERS, OTHERS, SUPPLIERS } = Roles

/** Acts per visit: keeps what a station touches in the cache without visiting too often. */
const VISIT = 4096

/** Visits in vain, per station, after which the promises are taken to creep: two idle stations may raise each other's by a tick at a time. */
const PATIENCE = 4

/**
 * The visits of the eager drive. A station is visited again when a neighbour has acted or
 * promises more, and that matters to it as it stands. A station behind few places is not
 * only visited: who fills them has it act within its own visit (`Station.press`), else
 * they would ask for each other's promises every few wafers.
 *
 * Patient stations come last of all: batch tools, carriers, people and the feed have much
 * to look at, and little to do for each wafer.
 */
export class Visits {
  private readonly signals: Signals
  private readonly soon: VisitSweep
  private readonly late: VisitSweep
  /** 1: the station is patient. */
  private readonly patient: Uint8Array
  /** Whom the station at each position has to do with, from `first[position]` on: 8 x position + what this station is to it (see `Signals.hears`). */
  private readonly links: Int32Array
  private readonly first: Int32Array

  constructor(
    private readonly stations: readonly Station[],
    private readonly limit: number,
  ) {
    for (const station of stations) station.before = before(station)
    for (const station of stations) station.behind = behind(station)
    this.signals = stations[0].signals
    this.signals.limit = limit
    this.signals.eager = true
    const order = byStage(stations)
    this.soon = new VisitSweep(order)
    this.late = new VisitSweep(order)
    this.patient = Uint8Array.from(stations, station => (station.patient ? 1 : 0))
    const links = stations.map(linksOf)
    this.links = Int32Array.from(links.flat())
    this.first = new Int32Array(stations.length + 1)
    for (const { position } of stations) {
      this.first[position + 1] = this.first[position] + links[position].length
      this.soon.add(position)
    }
  }

  /** Visits stations until none has news, or visits are in vain. */
  goOn(): void {
    const { soon, late } = this
    const patience = PATIENCE * this.stations.length
    for (let vain = 0; vain < patience; ) {
      if (soon.count > 0) vain = this.visit(soon.take()) ? 0 : vain + 1
      else if (late.count > 0) vain = this.visit(late.take()) ? 0 : vain + 1
      else return
    }
  }

  /** The station has acted out of turn: everybody it has to do with is visited. */
  tellAll(position: number): void {
    const { links, first } = this
    this.soon.add(position)
    for (let i = first[position]; i < first[position + 1]; i++) this.soon.add(links[i] >> 3)
  }

  /** @returns whether the station has acted */
  private visit(position: number): boolean {
    const { signals, soon } = this
    signals.grew = false
    const acts = this.stations[position].advance(VISIT, this.limit, false)
    // A loop may do some more.
    if (acts >= VISIT) soon.add(position)
    if (acts > 0 || signals.grew || signals.acted[position] === 1) this.tell(position)
    signals.acted[position] = 0
    // Those that have acted within this visit are visited, to promise anew and to tell their neighbours.
    for (let guest = signals.takeGuest(); guest >= 0; guest = signals.takeGuest()) soon.add(guest)
    return acts > 0
  }

  /** Those to whom the news of a station matter as they stand are visited. */
  private tell(position: number): void {
    const { links, first, patient } = this
    const { hears } = this.signals
    for (let i = first[position]; i < first[position + 1]; i++) {
      const other = links[i] >> 3
      if ((hears[other] & links[i] & 7) === 0) continue
      if (patient[other] === 1) this.late.add(other)
      else this.soon.add(other)
    }
  }
}

/**
 * Positions in the order of visits: by stage of the route, so that stations of parallel lanes
 * come one after the other, since they run the same code.
 */
function byStage(stations: readonly Station[]): Int32Array {
  const stage = new Int32Array(stations.length)
  for (const { position, suppliers } of stations)
    for (const supplier of suppliers)
      if (supplier && supplier.position < position)
        stage[position] = Math.max(stage[position], stage[supplier.position] + 1)
  return Int32Array.from(stage.keys()).sort((a, b) => stage[a] - stage[b] || a - b)
}

/** The only customer, if it is further down the route, there is hardly a place between, and it does not draw from this station. */
function behind(station: Station): Station | undefined {
  const { customers, outputs, position } = station
  const [customer] = customers
  if (customers.length !== 1 || customer.position < position) return undefined
  if (customer.before.includes(station)) return undefined
  return outputs[0].capacity <= station.few ? customer : undefined
}

/** Of several suppliers those with hardly a place between that have no other customer. */
function before({ suppliers, inputs, few }: Station): (Station | undefined)[] {
  const draws = (supplier: Station, i: number) =>
    suppliers.length > 1 && inputs[i].capacity <= few && supplier.customers.length === 1 && !supplier.patient
  return suppliers.map((supplier, i) => (supplier && draws(supplier, i) ? supplier : undefined))
}

function linksOf({ customers, suppliers, others }: Station): number[] {
  const links = new Set<number>()
  for (const customer of customers) links.add(8 * customer.position + SUPPLIERS)
  for (const supplier of suppliers) if (supplier) links.add(8 * supplier.position + CUSTOMERS)
  for (const other of others) links.add(8 * other.position + OTHERS)
  return [...links]
}

/** Stations to be visited, down the route and up again: what a station puts down is still warm when the next takes it. */
class VisitSweep {
  count = 0
  private at = 0
  private down = true
  /** Place of each position in the order. */
  private readonly places: Int32Array
  /** A bit per place. */
  private readonly waits: Int32Array

  /** @param order positions in the order of visits */
  constructor(private readonly order: Int32Array) {
    this.places = new Int32Array(order.length)
    order.forEach((position, place) => {
      this.places[position] = place
    })
    this.waits = new Int32Array((order.length >> 5) + 1)
  }

  add(position: number): void {
    const place = this.places[position]
    const word = place >> 5
    const bit = 1 << (place & 31)
    if ((this.waits[word] & bit) !== 0) return
    this.waits[word] |= bit
    this.count++
  }

  take(): number {
    let place = this.down ? this.next() : this.last()
    if (place < 0) {
      this.at = this.down ? this.order.length - 1 : 0
      this.down = !this.down
      place = this.down ? this.next() : this.last()
    }
    this.waits[place >> 5] &= ~(1 << (place & 31))
    this.count--
    this.at = place
    return this.order[place]
  }

  /** The first that waits from here on down the route; -1: none. */
  private next(): number {
    const { at, waits } = this
    let word = at >> 5
    let bits = waits[word] & (-1 << (at & 31))
    while (bits === 0 && ++word < waits.length) bits = waits[word]
    return bits === 0 ? -1 : 32 * word + 31 - Math.clz32(bits & -bits)
  }

  /** The last that waits up to here. */
  private last(): number {
    const { at, waits } = this
    let word = at >> 5
    let bits = waits[word] & (-1 >>> (31 - (at & 31)))
    while (bits === 0 && --word >= 0) bits = waits[word]
    return bits === 0 ? -1 : 32 * word + 31 - Math.clz32(bits)
  }
}
