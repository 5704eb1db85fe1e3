import { least } from '../chance/law.ts'
import type { CarriersPlan } from '../plan/plan.ts'
import { Calls } from './calls.ts'
import type { Channel } from './channel.ts'
import { drawer } from './draw.ts'
import { type Seat, Station } from './station.ts'
import { Tail } from './tail.ts'

/** The acts, in their order at equal times. */
const ARRIVE = 0
const LEAVE = 1
const CALL = 2
const CLOSE = 3
const TAKE = 4

/** Calls for a mover that can be open at the same time. */
const MOST_CALLS = 64

/**
 * Carriers between two stations: wafers are filled into an empty one, which goes when it
 * is full or has waited long enough, and is put down at the far end, from where its
 * wafers are taken one by one; when the last is taken it is on its way back.
 *
 * Acts at equal times: a carrier arrives; carriers leave with whoever moves them; people
 * or a vehicle are called; a carrier goes as full as it is; a wafer is taken in. One that
 * goes partly filled does so half a tick after it is due: whoever acts first within the
 * tick, the same wafers are in.
 *
 * The room entries of the output are the times at which wafers were taken from the far
 * end: with them this station knows when each carrier was empty.
 */
export class CarriersStation extends Station {
  declare advance: Station['advance']
  static {
    CarriersStation.prototype.advance = Station.ownLoop()
  }

  readonly calls: Calls
  private readonly input: Channel
  private readonly output: Channel
  private readonly drawTakes: () => number
  /** Wafers here and on the way, oldest first; the second number of each is not used. */
  private readonly held = new Tail(64)
  /** Carrier being filled: wafers in it, and since when; 0: none is. */
  private filled = 0
  private filledFrom = 0
  /** When the last wafer was taken in. */
  private takenAt = 0
  /** Sizes of the carriers that are ready to go, on the way (with the tick of arrival), and at the far end. */
  private readonly waiting = new Tail(8)
  private readonly moving = new Tail(8)
  private readonly far = new Tail(8)
  /** Ticks at which places at the far end became free again, oldest first, and those used that were free at first. */
  private readonly places = new Tail(8)
  private placesUsed = 0
  /** Ticks from which empty carriers are here again, oldest first. */
  private readonly empties = new Tail(8)
  /** Last arrival: carriers do not overtake each other. */
  private lastArrival = 0
  /** Trips that were called: tick at which the mover is there (Infinity: not granted), and how long the way takes. */
  private readonly trips: { handle: number; there: number; takes: number }[] = []
  private act = TAKE
  private trip = 0
  private earliestCall = 0
  private readonly shortestWay: number
  private needsWafer = false
  private needsEmptied = false

  constructor(
    readonly plan: CarriersPlan,
    seat: Seat,
  ) {
    super(plan.name, seat)
    this.input = seat.inputs[0]
    this.output = seat.outputs[0]
    this.output.roomLeft = 0
    this.drawTakes = drawer(plan.takes, seat.key, 1, plan.name, 'takes')
    this.shortestWay = Math.max(1, Math.floor(least(plan.takes)))
    this.calls = new Calls(this, MOST_CALLS)
    for (let c = 0; c < plan.number; c++) this.empties.add(0, 0)
  }

  // ---- the next act ------------------------------------------------------------

  protected find(): number {
    this.needsWafer = this.needsEmptied = false
    this.readEmptied()
    let time = this.mark(ARRIVE, 0, this.moving.nextExit(), Infinity)
    time = this.findLeaving(time)
    if (this.filled > 0 && this.plan.longestWait < Infinity)
      time = this.mark(CLOSE, 0, this.filledFrom + this.plan.longestWait + 0.5, time)
    return this.findTake(time)
  }

  private mark(act: number, trip: number, time: number, before: number): number {
    if (time >= before) return before
    this.act = act
    this.trip = trip
    return time
  }

  /** Carriers that have been emptied at the far end, by the takes that are recorded. */
  private readEmptied(): void {
    const { far, output } = this
    while (far.count > 0 && output.roomLeft >= far.first()) {
      const wafers = far.takeFirst()
      let taken = 0
      for (let w = 0; w < wafers; w++) taken = output.takeRoom()
      this.empties.add(0, taken + this.plan.back)
      this.places.add(0, taken)
    }
  }

  /** When the n-th waiting carrier (from 1) has its place at the far end; Infinity when that is not recorded. */
  private placeOf(n: number): number {
    const spare = this.plan.fullAtMost - this.placesUsed
    if (n <= spare) return 0
    return n - spare <= this.places.count ? this.places.exitOf(n - spare - 1) : Infinity
  }

  /** When the n-th waiting carrier (from 1) can go. */
  private readyOf(n: number): number {
    return Math.max(this.now, this.waiting.exitOf(n - 1), this.placeOf(n))
  }

  private findLeaving(before: number): number {
    const { waiting, plan } = this
    if (waiting.count === 0) return before
    if (!plan.call) {
      if (this.readyOf(1) === Infinity) this.needsEmptied = true
      return this.mark(LEAVE, -1, this.readyOf(1), before)
    }
    // How many go with who comes depends on the places that are free by then.
    const goWith = Math.min(waiting.count, plan.perTrip)
    if (this.trips.length > 0 && this.placeOf(goWith) === Infinity) this.needsEmptied = true
    let time = before
    this.trips.forEach((trip, index) => {
      time = this.mark(LEAVE, index, trip.there, time)
    })
    const n = this.trips.length * plan.perTrip + 1
    if (n > waiting.count || this.trips.length === MOST_CALLS) return time
    if (this.readyOf(n) === Infinity) this.needsEmptied = true
    return this.mark(CALL, 0, this.readyOf(n), time)
  }

  private findTake(before: number): number {
    const { input } = this
    let from = this.takenAt
    if (this.filled === 0) {
      if (this.empties.count === 0) {
        this.needsEmptied = true
        return before
      }
      from = Math.max(from, this.empties.nextExit())
    }
    if (input.waiting === 0 && !input.endless) {
      this.needsWafer = true
      return before
    }
    const ready = input.endless ? from : Math.max(from, input.ready[input.head])
    return this.mark(TAKE, 0, ready, before)
  }

  protected knows(time: number): boolean {
    if (this.knownUntil() < time) return false
    // An emptied carrier, or a place at the far end, that is not recorded yet.
    if (this.needsEmptied && !(this.customers[0].earliestTake > time)) return false
    if (!this.needsWafer || this.suppliers[0] === undefined) return true
    return this.suppliers[0].putsNotBefore(this.input) + this.input.delay >= time
  }

  /**
   * With trips that are not granted: no carrier leaves before the grant, and none arrives
   * before the way is done. Until then a wafer that does not fill its carrier can be taken
   * in ahead: nothing that a grant brings about looks at it.
   */
  private knownUntil(): number {
    const until = this.calls.knownUntil()
    const harmless = this.act === TAKE && this.filled + 1 < this.plan.holds
    return harmless ? Math.min(until + this.shortestWay, Math.max(until, this.meter.nextEdge - 1)) : until
  }

  protected promise(next: number): void {
    let take = Math.min(next, this.calls.knownUntil())
    if (this.needsEmptied) take = Math.min(take, this.customers[0].earliestTake)
    if (this.needsWafer) take = Math.min(take, this.arrivalBound())
    this.earliestCall = this.nextCall()
    this.earliestTake = take
    // A trip may leave before wafers that were taken in ahead of its grant.
    const leaves = this.trips.length > 0 ? take : Math.max(take, this.now)
    this.earliestPut = Math.min(this.moving.nextExit(), leaves + this.shortestWay)
  }

  /** Before this tick no wafer comes that is not recorded. */
  private arrivalBound(): number {
    const supplier = this.suppliers[0]
    return supplier ? supplier.putsNotBefore(this.input) + this.input.delay : Infinity
  }

  /** Before this tick nobody is called: a carrier must be full (or its time be over), and have its place. */
  private nextCall(): number {
    if (!this.plan.call) return Infinity
    const n = this.trips.length * this.plan.perTrip + 1
    if (n <= this.waiting.count) {
      const ready = this.readyOf(n)
      return ready < Infinity ? ready : this.customers[0].earliestTake
    }
    const { input, filled } = this
    const missing = this.plan.holds - filled
    const last =
      input.waiting >= missing ? input.ready[(input.head + missing - 1) & input.mask] : this.arrivalBound()
    const filling = input.endless ? this.takenAt : last
    if (filled > 0) return Math.max(this.takenAt, Math.min(filling, this.filledFrom + this.plan.longestWait))
    const empty =
      this.empties.count > 0 ? this.empties.nextExit() : this.customers[0].earliestTake + this.plan.back
    const first = input.waiting > 0 || input.endless ? this.takenAt : this.arrivalBound()
    return Math.max(this.takenAt, empty, Math.min(filling, Math.max(empty, first) + this.plan.longestWait))
  }

  /** What a grant still to come may bring about comes after it, so it does not count. */
  callsNotBefore(): number {
    let bound = this.earliestCall
    for (const trip of this.trips) bound = Math.min(bound, trip.there)
    return bound
  }

  // ---- acts --------------------------------------------------------------------

  protected perform(time: number): void {
    if (this.act === TAKE) this.take(time)
    else if (this.act === ARRIVE) this.arrive(time)
    else if (this.act === LEAVE) this.leave(time)
    else if (this.act === CALL) this.call(time)
    else this.close(time)
  }

  private take(time: number): void {
    const { input } = this
    if (input.endless && input.waiting === 0) input.refill(64, this.wafers)
    const wafer = input.takeOldest()
    if (input.endless) this.wafers.birth[wafer] = time
    else if (input.bounded) input.addRoom(time)
    this.countFlow(0, time)
    this.takenAt = time
    this.held.add(wafer, 0)
    if (this.filled === 0) {
      this.empties.takeFirst()
      this.filledFrom = time
    }
    if (++this.filled === this.plan.holds) this.close(time)
  }

  private close(time: number): void {
    this.waiting.add(this.filled, time)
    this.filled = 0
  }

  private call(time: number): void {
    const takes = this.drawTakes()
    let handle = 0
    while (this.trips.some(trip => trip.handle === handle)) handle++
    this.trips.push({ handle, there: Infinity, takes })
    if (this.plan.call) this.calls.call(handle, this.plan.call, time, takes + this.plan.returns)
  }

  waitsForPeople(): boolean {
    return this.calls.count > 0
  }

  override tells(): boolean {
    return (this.calls.desk?.open ?? 0) > 0
  }

  /** A tick later than reached: what comes of a grant comes after all that is granted at the same tick. */
  granted(handle: number, reached: number): void {
    this.calls.granted(handle, reached)
    for (const trip of this.trips) if (trip.handle === handle) trip.there = reached + 1
  }

  /** Carriers leave: one by the conveyor, or as many as are ready with whoever has come. */
  private leave(time: number): void {
    const trip = this.trip < 0 ? undefined : this.trips.splice(this.trip, 1)[0]
    const arrival = Math.max(this.lastArrival, time + (trip ? trip.takes : this.drawTakes()))
    this.lastArrival = arrival
    for (let n = 0; n < (trip ? this.plan.perTrip : 1) && this.waiting.count > 0; n++) {
      if (this.waiting.nextExit() > time || this.placeOf(1) > time) break
      this.usePlace()
      this.moving.add(this.waiting.takeFirst(), arrival)
    }
  }

  private usePlace(): void {
    if (this.placesUsed < this.plan.fullAtMost) this.placesUsed++
    else this.places.takeFirst()
  }

  private arrive(time: number): void {
    const wafers = this.moving.takeFirst()
    for (let w = 0; w < wafers; w++) this.output.put(this.held.takeFirst(), time)
    this.meter.flow[2 * this.inputs.length] += wafers
    this.meter.flow[2 * this.inputs.length + 1] += wafers * (time - this.meter.base)
    this.far.add(wafers, 0)
  }

  protected accrue(_time: number): void {}

  inside(): number[] {
    return this.held.wafersInside()
  }

  waitsFor(): string {
    if (this.calls.count > 0) return 'somebody to move its carriers'
    if (this.filled === 0 && this.empties.count === 0) return 'an empty carrier'
    return this.waiting.count > 0 ? 'a place at the far end' : 'wafers'
  }
}
