import type { HaltHost } from './belt-halts.ts'
import type { Channel } from './channel.ts'
import type { RunKey } from './draw.ts'
import type { Meter } from './meter.ts'
import { Promises } from './promises.ts'
import type { Signals } from './signals.ts'
import { START } from './start.ts'
import type { Wafers } from './wafers.ts'

/** What a station is given: its place in the line and what it works with. */
export interface Seat {
  readonly position: number
  readonly inputs: readonly Channel[]
  readonly outputs: readonly Channel[]
  readonly meter: Meter
  readonly wafers: Wafers
  readonly signals: Signals
  readonly key: RunKey
}

/**
 * A station owns its tools and its own clock, and runs as far ahead of the others as
 * is safe. What all kinds share:
 *
 * Acts. A station changes the world by acts: a wafer taken, put, a tool event. All
 * acts of a line have one order: by time, at equal times the station further down the
 * route first (higher position), within a station a fixed order stated in its head.
 *
 * Knowledge. Recorded entries of a channel never change, so an act needs only to know
 * what is not recorded yet: with no free place recorded, that the customer will not
 * take up to and including this time; with no wafer recorded, that the supplier will
 * not put before this time. That is what promises are for (`Promises`).
 */
export abstract class Station {
  /** Time of the last act [ticks]. */
  now = START

  readonly position: number
  readonly inputs: readonly Channel[]
  readonly outputs: readonly Channel[]
  readonly meter: Meter
  readonly wafers: Wafers
  readonly signals: Signals
  readonly promises: Promises

  constructor(
    readonly name: string,
    seat: Seat,
  ) {
    this.position = seat.position
    this.inputs = seat.inputs
    this.outputs = seat.outputs
    this.meter = seat.meter
    this.wafers = seat.wafers
    this.signals = seat.signals
    this.promises = new Promises(seat.position, seat.inputs, seat.outputs, seat.signals)
  }

  /** Stations at the other ends: who puts into each input (undefined: endless supply), who takes from each output. */
  suppliers: readonly (Station | undefined)[] = []
  customers: readonly Station[] = []
  /** Eager drive only: the customer behind so few places that the loops have it act when none is left; undefined: none. */
  behind: Station | undefined = undefined
  /** Eager drive only, of a station with several suppliers: those of them behind whom are so few places. */
  before: readonly (Station | undefined)[] = []
  /** Stations it hears of through something shared: people, the cap on wafers. */
  others: readonly Station[] = []

  /**
   * Sets the station up for time 0, once it is complete. Not done while it is built: a
   * method that has seen stations half built expects them of two kinds for good.
   */
  open(): void {}

  /** Acts seldom, and not for each wafer that comes: it is visited when nothing else can go on. */
  readonly patient: boolean = false

  /** Eager drive only: behind so few places it has the next station act when all are full, and would else be visited for a few wafers at a time. */
  readonly few: number = 16

  /** Finds the next act by what is recorded. @returns its tick, Infinity when there is none */
  protected abstract find(): number

  /** Whether everything is known that the act found at `time` depends on. */
  protected abstract knows(time: number): boolean

  /** Does the act that was found. */
  protected abstract perform(time: number): void

  /** Sets the promises, the next act by what is recorded being at `next`. */
  protected abstract promise(next: number): void

  /** Time of the next act by what is recorded; Infinity when there is none. */
  pending(): number {
    return this.find()
  }

  /**
   * Acts in order, at most `most` times, up to but not including `limit`.
   * With `knowsAll`, what is not recorded is taken not to have happened: right for the
   * earliest act of the whole line, and for nothing else.
   * @returns acts done
   */
  abstract advance(most: number, limit: number, knowsAll: boolean): number

  /** Eager drive only: plain acts, as far as they are known, leaving the promises as they are. @returns acts done */
  hurry(_limit: number): number {
    return 0
  }

  /** Eager drive only: has the next station act, to make room. @returns whether it has */
  press(): boolean {
    return this.haveAct(this.behind)
  }

  /** Eager drive only: has the supplier at an input act, if that is near. @returns whether it has */
  draw(input: number): boolean {
    return this.haveAct(this.before[input])
  }

  /**
   * Eager drive only, last in, first out: has the supplier fill the place that has just become
   * free, since what comes into a full buffer is the next to be taken. Not one behind so few places
   * that it would have this station act in turn. @returns whether it is full again
   */
  protected refill(): boolean {
    const input = this.inputs[0]
    const supplier = this.suppliers[0]
    if (!input.lifo || !input.bounded || supplier?.behind === this) return false
    return this.haveAct(supplier) && input.isFull()
  }

  /**
   * Eager drive only: the only belt before this station hands wafers straight to its only tool,
   * as far as both are known. @param before acts of the belt up to, not including, this tick
   * @returns acts done by the belt
   */
  passStraight(_belt: HaltHost, _input: Channel, _before: number, _limit: number): number {
    return 0
  }

  /** A neighbour acts within the visit of this station, which is told of when it is over. */
  private haveAct(other: Station | undefined): boolean {
    const { signals } = this
    if (other === undefined || other.hurry(signals.limit) === 0) return false
    signals.actedWithin(other.position)
    return true
  }

  /**
   * The loop behind `advance`, for kinds of stations that act seldom.
   *
   * The compiler fits a loop to the kinds that it has seen, up to four; beyond, it looks
   * up everything by name. So there are two, alike: this one, and `busyLoop`.
   */
  protected static readonly seldomLoop: Station['advance'] = function (this: Station, most, limit, knowsAll) {
    let acts = 0
    let time = this.find()
    while (acts < most && time < limit && (knowsAll || this.knows(time))) {
      if (time >= this.meter.nextEdge) this.closeBlocks(time)
      this.now = time
      this.perform(time)
      acts++
      time = this.find()
    }
    this.promise(time)
    return acts
  }

  /** The same for belts, single-wafer and batch tools, and junctions. */
  protected static readonly busyLoop: Station['advance'] = function (this: Station, most, limit, knowsAll) {
    let acts = 0
    let time = this.find()
    while (acts < most && time < limit && (knowsAll || this.knows(time))) {
      if (time >= this.meter.nextEdge) this.closeBlocks(time)
      this.now = time
      this.perform(time)
      acts++
      time = this.find()
    }
    this.promise(time)
    return acts
  }

  /** Writes tool times up to `time` into the meter. */
  protected abstract accrue(time: number): void

  /**
   * Eager drive only: the station whose pending act goes before this one's in the order
   * of the line, although this station is further down the route.
   */
  yieldsTo(): Station | undefined {
    return undefined
  }

  /** The next wafer of an input: from outside it comes into the line, else its place becomes free. */
  takeFrom(input: Channel, time: number): number {
    input.supply(this.wafers)
    const wafer = input.lifo ? input.takeNewest(time) : input.takeOldest()
    if (input.outside) this.wafers.birth[wafer] = time
    else if (input.bounded && !input.direct) input.addRoom(time)
    return wafer
  }

  /** Before this tick the station has not taken so many wafers more than are recorded. */
  takesNotBefore(_count: number): number {
    return this.promises.take
  }

  /** Before this tick the station has not put so many wafers into its first output more than are recorded. */
  putsNotBefore(_count: number): number {
    return this.promises.put
  }

  /** What the station waits for, in words, for the report of a line at rest. */
  abstract waitsFor(): string

  /** Rows of the wafers inside now. */
  abstract inside(): number[]

  /** Closes all blocks that end at or before `time`. Events at the edge belong to the next block. */
  closeBlocks(time: number): void {
    const { meter } = this
    while (time >= meter.nextEdge) {
      if (meter.endsCoarse()) this.accrue(meter.nextEdge)
      meter.closePart()
    }
  }
}
