import { least } from '../chance/law.ts'
import type { CarriersPlan } from '../plan/plan.ts'
import { Calls } from './calls.ts'
import type { Channel } from './channel.ts'
import { drawer } from './draw.ts'
import { Empties, STRAIGHT } from './empties.ts'
import { START } from './start.ts'
import { type Seat, Station } from './station.ts'
import { Tail } from './tail.ts'

/** Calls for a mover that can be open at the same time. */
export const MOST_CALLS = 64

/**
 * What happens to carriers: wafers are filled into an empty one, which goes when it is
 * full or has waited long enough, and is put down at the far end, from where its wafers
 * are taken one by one; when the last is taken it is on its way back.
 *
 * The room entries of the output are the times at which wafers were taken from the far
 * end: with them this station knows when each carrier was empty. Which empty one is filled
 * next is for Empties to say.
 */
export abstract class CarriersWork extends Station {
  readonly calls: Calls
  protected readonly input: Channel
  protected readonly output: Channel
  protected readonly drawTakes: () => number
  /** Wafers here and on the way, oldest first; the second number of each is not used. */
  protected readonly held = new Tail(64)
  /** Carrier being filled: wafers in it, and since when; 0: none is. */
  protected filled = 0
  protected filledFrom = START
  /** When the last wafer was taken in. */
  protected takenAt = START
  /** Sizes of the carriers that are ready to go, on the way (with the tick of arrival), and at the far end. */
  protected readonly waiting = new Tail(8)
  protected readonly moving = new Tail(8)
  protected readonly far = new Tail(8)
  /** Ticks at which places at the far end became free again, oldest first, and those used that were free at first. */
  protected readonly places = new Tail(8)
  protected placesUsed = 0
  protected readonly empties: Empties
  /** Last arrival: carriers do not overtake each other. */
  protected lastArrival = START
  /** Trips that were called: tick at which the mover is there (Infinity: not granted), and how long the way takes. */
  protected readonly trips: { handle: number; there: number; takes: number }[] = []
  protected trip = 0
  protected readonly shortestWay: number

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
    this.empties = new Empties(plan, seat.key)
  }

  /** Carriers that have been emptied at the far end, by the takes that are recorded. */
  protected readEmptied(): void {
    const { far, output } = this
    while (far.count > 0 && output.roomLeft >= far.first()) {
      const taken = output.takeRooms(far.takeFirst())
      this.empties.giveBack(taken)
      this.places.add(0, taken)
    }
  }

  /** Before this tick no carrier is emptied at the far end that is not recorded: all its wafers must be taken. */
  protected emptiedNotBefore(): number {
    const { far, moving, output } = this
    if (far.count > 0) return this.customers[0].takesNotBefore(far.first() - output.roomLeft)
    return moving.count > 0 ? Math.max(output.takesFrom, moving.nextExit()) : output.takesFrom
  }

  /** Before this tick none can be filled that is empty: one that is known to be, or, before it, one that is yet to be emptied. */
  protected emptyNotBefore(): number {
    const { empties } = this
    if (empties.count > 0 && !(empties.wear && empties.inUse)) return empties.nextReady()
    return Math.min(empties.nextReady(), this.emptiedNotBefore() + this.plan.back)
  }

  /** When the n-th waiting carrier (from 1) has its place at the far end; Infinity when that is not recorded. */
  protected placeOf(n: number): number {
    const spare = this.plan.fullAtMost - this.placesUsed
    if (n <= spare) return 0
    return n - spare <= this.places.count ? this.places.exitOf(n - spare - 1) : Infinity
  }

  /** When the n-th waiting carrier (from 1) can go. */
  protected readyOf(n: number): number {
    return Math.max(this.now, this.waiting.exitOf(n - 1), this.placeOf(n))
  }

  // ---- acts --------------------------------------------------------------------

  protected take(time: number): void {
    const wafer = this.takeFrom(this.input, time)
    this.meter.countFlow(0, time)
    this.takenAt = time
    this.held.add(wafer, 0)
    if (this.filled === 0) {
      const from = this.empties.take()
      if (from !== STRAIGHT) this.meter.counter[from]++
      this.filledFrom = time
    }
    if (++this.filled === this.plan.holds) this.close(time)
  }

  protected close(time: number): void {
    this.waiting.add(this.filled, time)
    this.filled = 0
  }

  protected call(time: number): void {
    const takes = this.drawTakes()
    let handle = 0
    while (this.trips.some(trip => trip.handle === handle)) handle++
    this.trips.push({ handle, there: Infinity, takes })
    if (this.plan.call) this.calls.call(handle, this.plan.call, time, takes + this.plan.returns)
  }

  /** A tick later than reached: what comes of a grant comes after all that is granted at the same tick. */
  granted(handle: number, reached: number): void {
    this.calls.granted(handle, reached)
    for (const trip of this.trips) if (trip.handle === handle) trip.there = reached + 1
  }

  /** Carriers leave: one by the conveyor, or as many as are ready with whoever has come. */
  protected leave(time: number): void {
    const trip = this.trip < 0 ? undefined : this.trips.splice(this.trip, 1)[0]
    const arrival = Math.max(this.lastArrival, time + (trip ? trip.takes : this.drawTakes()))
    this.lastArrival = arrival
    for (let n = 0; n < (trip ? this.plan.perTrip : 1) && this.waiting.count > 0; n++) {
      if (this.waiting.nextExit() > time || this.placeOf(1) > time) break
      this.usePlace()
      this.moving.add(this.waiting.takeFirst(), arrival)
    }
  }

  protected usePlace(): void {
    if (this.placesUsed < this.plan.fullAtMost) this.placesUsed++
    else this.places.takeFirst()
  }

  protected arrive(time: number): void {
    const wafers = this.moving.takeFirst()
    this.output.putRing(this.held.wafers, this.held.mask, this.held.head, wafers, time)
    this.held.dropFirst(wafers)
    this.meter.flow[2 * this.inputs.length] += wafers
    this.meter.flow[2 * this.inputs.length + 1] += wafers * (time - this.meter.base)
    this.far.add(wafers, 0)
  }

  protected accrue(_time: number): void {}

  abstract callsNotBefore(): number

  inside(): number[] {
    return this.held.wafersInside()
  }

  waitsFor(): string {
    if (this.calls.count > 0) return 'somebody to move its carriers'
    if (this.filled === 0 && this.empties.count === 0) return 'an empty carrier'
    return this.waiting.count > 0 ? 'a place at the far end' : 'wafers'
  }
}
