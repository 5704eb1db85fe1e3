import { Requests } from './requests.ts'
import type { Wafers } from './wafers.ts'

/** Wafers that an endless supply brings at a time. */
const SUPPLY = 64

/**
 * What lies between two stations, and all they need to know of each other: when each
 * wafer was put in, and when each place became free.
 *
 *     producer --put--> [ arrivals ring ] --take--> consumer
 *     producer <------- [ room ring     ] <-------- consumer
 *
 * A bounded channel starts with one room entry (time 0) per place; every take adds an
 * entry, every put uses the oldest. A direct channel (capacity 0) has no places: the
 * consumer posts a request when a tool becomes idle, with the time after which the
 * request is void because the tool will stop. Recorded entries never change, which
 * lets the producer and the consumer run at different times.
 */
export class Channel extends Requests {
  /** Records a wafer that enters at `time`. The caller has used a room entry if the channel is bounded. */
  put(wafer: number, time: number): void {
    if (this.waiting > this.mask) this.growArrivals()
    const tail = (this.head + this.waiting) & this.mask
    this.wafer[tail] = wafer
    this.ready[tail] = time + this.delay
    this.waiting++
  }

  /** Places that are recorded to be free by `time`, at most `most`. Of a direct channel one at most, since requests are void one by one. */
  roomsBy(time: number, most: number): number {
    if (!this.bounded) return most
    if (this.direct) return this.requestAt(time) === time ? Math.min(1, most) : 0
    const { room, roomHead, roomMask } = this
    const end = Math.min(most, this.roomLeft)
    let rooms = 0
    while (rooms < end && room[(roomHead + rooms) & roomMask] <= time) rooms++
    return rooms
  }

  /** Records wafers `from` to before `to` of a load, which enter at `time` and have their places by then (`roomsBy`). */
  putSpan(load: Int32Array, from: number, to: number, time: number): void {
    const count = to - from
    if (this.direct) this.useRoom(time)
    else if (this.bounded) {
      this.roomHead = (this.roomHead + count) & this.roomMask
      this.roomLeft -= count
    }
    this.putRing(load, -1, from, count, time)
  }

  /**
   * Bounded, not direct: records wafers `from` to before `to` of a load one by one, the first at
   * `time`, when its place is free, each other as soon as its own is: before `before`, by `until`, as
   * far as places are recorded.
   *
   * @returns wafers that have entered
   */
  putEach(load: Int32Array, from: number, to: number, time: number, before: number, until: number): number {
    const { room, wafer, ready } = this
    const roomMask = this.roomMask | 0
    const roomHead = this.roomHead | 0
    const mask = this.mask | 0
    const tail = (this.head + this.waiting) | 0
    const delay = this.delay - 0
    const most = Math.min(this.roomLeft, to - from) | 0
    let now = time - 0
    let put = 0
    for (; put < most; put++) {
      const place = room[(roomHead + put) & roomMask]
      if (place > now) {
        if (!(place < before && place <= until)) break
        now = place
      }
      wafer[(tail + put) & mask] = load[from + put]
      ready[(tail + put) & mask] = now + delay
    }
    this.waiting += put
    this.roomHead = (roomHead + put) & roomMask
    this.roomLeft -= put
    return put
  }

  /** Records wafers that enter at `time`, from a place of a ring on (a mask of -1: of an array). The caller has used their places. */
  putRing(ring: Int32Array, ringMask: number, from: number, count: number, time: number): void {
    while (this.waiting + count > this.mask + 1) this.growArrivals()
    const { wafer, ready } = this
    const mask = this.mask | 0
    const tail = (this.head + this.waiting) | 0
    const at = time + this.delay
    for (let w = 0; w < count; w++) {
      wafer[(tail + w) & mask] = ring[(from + w) & ringMask]
      ready[(tail + w) & mask] = at
    }
    this.waiting += count
  }

  /** Records wafers that enter one after the other. The caller has used their places. @param times when each does */
  putAll(load: Int32Array, times: Float64Array, count: number): void {
    while (this.waiting + count > this.mask + 1) this.growArrivals()
    const { wafer, ready, delay } = this
    const mask = this.mask | 0
    const tail = (this.head + this.waiting) | 0
    for (let w = 0; w < count; w++) {
      wafer[(tail + w) & mask] = load[w]
      ready[(tail + w) & mask] = times[w] + delay
    }
    this.waiting += count
  }

  /** Tick at which the last wafer was put; it must not be taken yet. */
  lastPut(): number {
    return this.ready[(this.head + this.waiting - 1) & this.mask] - this.delay
  }

  /** Writes down when so many wafers were put, from a place of the ring on, as when they left the step before. */
  stamp(stamps: Float64Array, from: number, count: number): void {
    const { wafer, ready } = this
    const mask = this.mask | 0
    const delay = this.delay - 0
    for (let w = from; w < from + count; w++) stamps[wafer[w & mask]] = ready[w & mask] - delay
  }

  /** Sum of the ticks, from `base` on, at which so many wafers were put, from a place of the ring on. */
  sumOfPuts(from: number, count: number, base: number): number {
    const { ready } = this
    const mask = this.mask | 0
    const since = base + this.delay
    let sum = 0
    for (let w = 0; w < count; w++) sum += ready[(from + w) & mask] - since
    return sum
  }

  /** Takes the oldest recorded wafer. */
  takeOldest(): number {
    const wafer = this.wafer[this.head]
    this.head = (this.head + 1) & this.mask
    this.waiting--
    return wafer
  }

  /** Records that a place is free from `time` on, unless that has been foretold. */
  addRoom(time: number): void {
    if (this.foretold.recorded > 0) {
      this.foretold.recorded--
      return
    }
    const tail = (this.roomHead + this.roomLeft) & this.roomMask
    this.room[tail] = time
    this.roomLeft++
  }

  /** Records that so many places are free from `time` on. */
  addRooms(count: number, time: number): void {
    const { room } = this
    const mask = this.roomMask | 0
    const tail = (this.roomHead + this.roomLeft) | 0
    for (let i = 0; i < count; i++) room[(tail + i) & mask] = time
    this.roomLeft += count
  }

  /** A loop has put so many wafers into the rings. @param foreseen so many of the places it recorded itself, of takes that were foretold; `nextTake`: when the take after them may come */
  havePut(count: number, foreseen: number, nextTake: number): void {
    this.waiting += count
    if (!this.bounded) return
    this.roomHead = (this.roomHead + count) & this.roomMask
    this.roomLeft += foreseen - count
    if (foreseen === 0) return
    const { foretold } = this
    foretold.recorded += foreseen
    foretold.most -= foreseen
    foretold.place += foreseen
    foretold.opens = nextTake
  }

  /** Takes the oldest entries out, so many. @returns tick of the last */
  takeRooms(count: number): number {
    const last = this.room[(this.roomHead + count - 1) & this.roomMask]
    this.roomHead = (this.roomHead + count) & this.roomMask
    this.roomLeft -= count
    return last
  }

  /**
   * When a wafer that is ready at `from` finds a place, as far as is recorded: `from`
   * or later; Infinity when no free place is recorded.
   */
  roomAt(from: number): number {
    if (!this.bounded) return from
    if (this.direct) return this.requestAt(from)
    if (this.roomLeft === 0) return Infinity
    const free = this.room[this.roomHead]
    return free > from ? free : from
  }

  /** Before this tick no wafer becomes ready that is not recorded. */
  arrivesFrom(): number {
    return this.putsFrom + this.delay
  }

  /**
   * Before this tick no wafer becomes ready that is not recorded and comes before the next one
   * is taken: none does while wafers stand in all places.
   */
  entersFrom(): number {
    return this.isFull() ? Infinity : this.arrivesFrom()
  }

  /** Recorded wafers stand in all places. A place that is spoken for is not yet one with a wafer in it. */
  isFull(): boolean {
    const inside = this.waiting + this.stacked
    return inside === this.capacity && inside > 0
  }

  /** Wafers in a bounded channel at `time`, from the places that are free by then. */
  fillAt(time: number): number {
    if (this.direct) return 0
    let low = 0
    let high = this.roomLeft
    while (low < high) {
      const middle = (low + high) >> 1
      if (this.room[(this.roomHead + middle) & this.roomMask] <= time) low = middle + 1
      else high = middle
    }
    return this.capacity - low
  }

  /** Whether every take up to `time` is recorded: a later one is, or nothing is left to take. */
  fillKnownAt(time: number): boolean {
    if (this.direct) return this.roomAt(time) < Infinity
    if (this.waiting === 0 && this.stacked === 0) return true
    return this.roomLeft > 0 && this.room[(this.roomHead + this.roomLeft - 1) & this.roomMask] > time
  }

  /** Makes sure that of an endless supply so many wafers wait: many are made at a time. */
  supply(wafers: Wafers, least = 1): void {
    if (!this.endless || this.waiting >= least) return
    while (this.waiting < Math.max(least, SUPPLY)) this.put(wafers.make(), 0)
  }

  /** Last-in-first-out: moves onto the stack what has entered before `time`. */
  stackBefore(time: number): void {
    while (this.waiting > 0 && this.ready[this.head] < time) this.push(this.takeOldest())
  }

  /** Last-in-first-out: the newest wafer at `time`; when none has entered before, the one that enters now. */
  takeNewest(time: number): number {
    this.stackBefore(time)
    return this.stacked > 0 ? this.stack[--this.stacked] : this.takeOldest()
  }

  /** The wafer that would be taken at `time`; one must be recorded. */
  nextAt(time: number): number {
    let before = 0
    if (this.lifo)
      while (before < this.waiting && this.ready[(this.head + before) & this.mask] < time) before++
    if (before > 0) return this.wafer[(this.head + before - 1) & this.mask]
    return this.stacked > 0 ? this.stack[this.stacked - 1] : this.wafer[this.head]
  }
}
