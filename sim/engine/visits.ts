import type { Signals } from './signals.ts'
import * as Roles from './signals.ts'
import type { Station } from './station.ts'

const { CUSTOMERS, SUPPLIERS } = Roles

/** Acts per visit: keeps what a station touches in the cache without visiting too often. */
const VISIT = 4096

/** Visits in vain, per station, after which the promises are taken to creep: two idle stations may raise each other's by a tick at a time. */
const PATIENCE = 4

/** Stations with so few places between them can run ahead of each other by a few wafers only. */
const TIGHT = 16

/**
 * The visits of the eager drive. A station is visited again when a neighbour has acted or
 * promises more, and that matters to it as it stands.
 *
 * First come neighbours with hardly a place between, by turns and for plain acts only
 * (`Station.hurry`): they would ask for each other's promises wafer by wafer. Then every
 * station that has news, the patient ones last of all: batch tools, carriers, people and
 * the feed have much to look at, and little to do for each wafer.
 */
export class Visits {
  private readonly links: readonly Links[]
  private readonly partners: Int32Array
  private readonly signals: Signals
  private readonly near: VisitStack
  private readonly far: VisitSweep
  private readonly late: VisitSweep
  /** 1: the station has acted in its turn, which its other neighbours do not know yet. */
  private readonly acted: Uint8Array
  /** 1: the station is patient. */
  private readonly patient: Uint8Array

  constructor(
    private readonly stations: readonly Station[],
    private readonly limit: number,
  ) {
    this.links = stations.map(linksOf)
    this.partners = Int32Array.from(this.links, ({ partner }) => partner)
    this.signals = stations[0].signals
    this.near = new VisitStack(stations.length)
    this.far = new VisitSweep(stations.length)
    this.late = new VisitSweep(stations.length)
    this.acted = new Uint8Array(stations.length)
    this.patient = Uint8Array.from(stations, station => (station.patient ? 1 : 0))
    for (const { position } of stations) this.far.add(position)
  }

  /** Visits stations until none has news, or visits are in vain. */
  goOn(): void {
    const { near, far, late } = this
    const patience = PATIENCE * this.stations.length
    for (let vain = 0; vain < patience; ) {
      if (near.count > 0) vain = this.takeTurns(near.take()) ? 0 : vain
      else if (far.count > 0) vain = this.visit(far.take()) ? 0 : vain + 1
      else if (late.count > 0) vain = this.visit(late.take()) ? 0 : vain + 1
      else return
    }
  }

  /** The station has acted out of turn: everybody it has to do with is visited. */
  tellAll(position: number): void {
    const { near, far, others } = this.links[position]
    this.far.add(position)
    for (const link of [...near, ...far]) this.far.add(link >> 2)
    for (const other of others) this.far.add(other)
  }

  /** @returns whether the station has acted */
  private visit(position: number): boolean {
    const { signals } = this
    signals.grew = false
    const acts = this.stations[position].advance(VISIT, this.limit, false)
    // A loop may do some more.
    if (acts >= VISIT) this.far.add(position)
    if (acts > 0 || signals.grew || this.acted[position] === 1) this.tell(position)
    this.acted[position] = 0
    return acts > 0
  }

  /** Plain acts of a station, and by turns of the one to which it hands over directly. @returns whether there were any */
  private takeTurns(position: number): boolean {
    const { partners } = this
    if (!this.hurries(position)) return false
    let last = position
    let other = partners[position]
    while (other >= 0 && this.hurries(other)) {
      const next = partners[other] === last ? last : -1
      last = other
      other = next
    }
    // Who could not go on has seen what the last one did.
    this.tellNear(position, other)
    if (last !== position) this.tellNear(last, other)
    return true
  }

  /** @returns whether the station has acted; it is visited later in any case */
  private hurries(position: number): boolean {
    this.far.add(position)
    if (this.stations[position].hurry(this.limit) === 0) return false
    this.acted[position] = 1
    return true
  }

  private tell(position: number): void {
    const { far, others } = this.links[position]
    this.tellNear(position, -1)
    for (let i = 0; i < far.length; i++) if (minds(far[i], this.signals)) this.soon(far[i] >> 2)
    for (let i = 0; i < others.length; i++) if (this.signals.wants[others[i]] === 1) this.soon(others[i])
  }

  /** @param knows the neighbour that has seen it already; -1: none */
  private tellNear(position: number, knows: number): void {
    const { near } = this.links[position]
    for (let i = 0; i < near.length; i++)
      if (near[i] >> 2 !== knows && minds(near[i], this.signals)) this.near.add(near[i] >> 2)
  }

  private soon(position: number): void {
    if (this.patient[position] === 1) this.late.add(position)
    else this.far.add(position)
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
  private down = true
  /** A bit per station. */
  private readonly waits: Int32Array

  constructor(private readonly stations: number) {
    this.waits = new Int32Array((stations >> 5) + 1)
  }

  add(position: number): void {
    const word = position >> 5
    const bit = 1 << (position & 31)
    if ((this.waits[word] & bit) !== 0) return
    this.waits[word] |= bit
    this.count++
  }

  take(): number {
    let position = this.down ? this.next() : this.last()
    if (position < 0) {
      this.at = this.down ? this.stations - 1 : 0
      this.down = !this.down
      position = this.down ? this.next() : this.last()
    }
    this.waits[position >> 5] &= ~(1 << (position & 31))
    this.count--
    this.at = position
    return position
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
