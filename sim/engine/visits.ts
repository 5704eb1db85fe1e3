import type { Signals } from './signals.ts'
import * as Roles from './signals.ts'
import type { Station } from './station.ts'

const { CUSTOMERS, SUPPLIERS } = Roles

/** Acts per visit: keeps what a station touches in the cache without visiting too often. */
const VISIT = 4096

/** Visits in vain, per station, after which the promises are taken to creep: two idle stations may raise each other's by a tick at a time. */
const PATIENCE = 4

/** Behind so few places a station is pressed: who fills them could run ahead of it by a few wafers only. */
const TIGHT = 16

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
  private readonly links: readonly Links[]
  private readonly signals: Signals
  private readonly soon: VisitSweep
  private readonly late: VisitSweep
  /** 1: the station has been pressed and has acted, which its neighbours do not know yet. */
  private readonly acted: Uint8Array
  /** 1: the station is patient. */
  private readonly patient: Uint8Array

  constructor(
    private readonly stations: readonly Station[],
    private readonly limit: number,
  ) {
    for (const station of stations) {
      station.behind = behind(station)
      station.before = before(station)
    }
    this.links = stations.map(linksOf)
    this.signals = stations[0].signals
    this.signals.limit = limit
    this.soon = new VisitSweep(stations.length)
    this.late = new VisitSweep(stations.length)
    this.acted = new Uint8Array(stations.length)
    this.patient = Uint8Array.from(stations, station => (station.patient ? 1 : 0))
    for (const { position } of stations) this.soon.add(position)
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
    const { neighbours, others } = this.links[position]
    this.soon.add(position)
    for (const link of neighbours) this.soon.add(link >> 2)
    for (const other of others) this.soon.add(other)
  }

  /** @returns whether the station has acted */
  private visit(position: number): boolean {
    const { signals } = this
    signals.grew = false
    const acts = this.stations[position].advance(VISIT, this.limit, false)
    // A loop may do some more.
    if (acts >= VISIT) this.soon.add(position)
    if (acts > 0 || signals.grew || this.acted[position] === 1) this.tell(position)
    this.acted[position] = 0
    this.visitPressed(position)
    return acts > 0
  }

  /** Stations that have acted within the visit of this one are visited, to promise anew and to be told of. */
  private visitPressed(position: number): void {
    const { behind, before } = this.links[position]
    this.noticed(behind)
    for (let i = 0; i < before.length; i++) this.noticed(before[i])
  }

  private noticed(position: number): void {
    const { pressed } = this.signals
    for (let at = position; at >= 0 && pressed[at] === 1; at = this.links[at].behind) {
      pressed[at] = 0
      this.acted[at] = 1
      this.soon.add(at)
    }
  }

  private tell(position: number): void {
    const { neighbours, others } = this.links[position]
    for (let i = 0; i < neighbours.length; i++)
      if (minds(neighbours[i], this.signals)) this.add(neighbours[i] >> 2)
    for (let i = 0; i < others.length; i++) if (this.signals.wants[others[i]] === 1) this.add(others[i])
  }

  private add(position: number): void {
    if (this.patient[position] === 1) this.late.add(position)
    else this.soon.add(position)
  }
}

/** The customer with hardly a place between that has no other supplier. */
function behind({ customers, outputs }: Station): Station | undefined {
  const [customer] = customers
  if (customers.length !== 1 || customer.inputs.length !== 1 || outputs[0].capacity > TIGHT) return undefined
  return customer
}

/** Of several suppliers those with hardly a place between that have no other customer. */
function before({ suppliers, inputs }: Station): (Station | undefined)[] {
  return suppliers.map((supplier, i) => {
    const near = inputs[i].capacity <= TIGHT && supplier?.customers.length === 1
    return near && suppliers.length > 1 ? supplier : undefined
  })
}

/** The news of a station matter to this neighbour as it stands. */
function minds(link: number, { hears }: Signals): boolean {
  return (hears[link >> 2] & link & 3) !== 0
}

interface Links {
  /** Suppliers and customers, each as 4 x position + what this station is to it (see `Signals.hears`). */
  readonly neighbours: Int32Array
  /** Positions of those with whom something is shared. */
  readonly others: Int32Array
  /** Position of the station that it presses; -1: none. */
  readonly behind: number
  /** Positions of those that it draws from. */
  readonly before: Int32Array
}

function linksOf({ customers, suppliers, others, behind, before }: Station): Links {
  const neighbours = new Set<number>()
  for (const customer of customers) neighbours.add(4 * customer.position + SUPPLIERS)
  for (const supplier of suppliers) if (supplier) neighbours.add(4 * supplier.position + CUSTOMERS)
  return {
    neighbours: Int32Array.from(neighbours),
    others: Int32Array.from(others, other => other.position),
    behind: behind ? behind.position : -1,
    before: Int32Array.from(before.filter(supplier => supplier !== undefined), near => near.position),
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
