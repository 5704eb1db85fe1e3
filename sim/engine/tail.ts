import { unrolled } from './grown.ts'
import { START } from './start.ts'

/**
 * The wafers on one belt, in the order in which they entered and will leave. Times are
 * kept in belt time: a belt that stands still shifts all of them at once.
 */
export class Tail {
  count = 0
  /** Where the first stands in the ring. */
  head = 0
  mask: number
  wafers: Int32Array
  /** When each reaches the end, in belt time: `shift` later. */
  exits: Float64Array
  shift = START

  constructor(length: number) {
    let size = 4
    while (size < length) size *= 2
    this.wafers = new Int32Array(size)
    this.exits = new Float64Array(size)
    this.mask = size - 1
  }

  /** @param exit tick at which the wafer reaches the end if the belt does not stand still */
  add(wafer: number, exit: number): void {
    if (this.count > this.mask) this.grow()
    const tail = (this.head + this.count) & this.mask
    this.wafers[tail] = wafer
    this.exits[tail] = exit - this.shift
    this.count++
  }

  /** Adds wafers from a place of a ring on, all due at the same tick. */
  addAll(ring: Int32Array, ringMask: number, from: number, count: number, exit: number): void {
    while (this.count + count > this.mask + 1) this.grow()
    const { wafers, exits, mask } = this
    const tail = (this.head + this.count) | 0
    const due = exit - this.shift
    for (let w = 0; w < count; w++) {
      wafers[(tail + w) & mask] = ring[(from + w) & ringMask]
      exits[(tail + w) & mask] = due
    }
    this.count += count
  }

  /** Adds an entry behind those that are due no later, before all others. */
  insert(wafer: number, exit: number): void {
    this.add(wafer, exit)
    const { exits, wafers } = this
    const mask = exits.length - 1
    const due = exit - this.shift
    let at = (this.head + this.count - 1) & mask
    while (at !== this.head) {
      const before = (at - 1) & mask
      if (exits[before] <= due) break
      exits[at] = exits[before]
      wafers[at] = wafers[before]
      at = before
    }
    exits[at] = due
    wafers[at] = wafer
  }

  /** When the first wafer reaches the end; Infinity when the belt is empty. */
  nextExit(): number {
    return this.count > 0 ? this.exits[this.head] + this.shift : Infinity
  }

  /** The first entry. */
  first(): number {
    return this.wafers[this.head]
  }

  /** The tick of the entry at a place, from 0. */
  exitOf(place: number): number {
    return this.exits[(this.head + place) & this.mask] + this.shift
  }

  takeFirst(): number {
    const wafer = this.wafers[this.head]
    this.head = (this.head + 1) & this.mask
    this.count--
    return wafer
  }

  /** Takes so many. */
  dropFirst(count: number): void {
    this.head = (this.head + count) & this.mask
    this.count -= count
  }

  /** Takes the wafer that entered last. */
  takeLast(): number {
    this.count--
    return this.wafers[(this.head + this.count) & this.mask]
  }

  wafersInside(): number[] {
    return Array.from({ length: this.count }, (_, i) => this.wafers[(this.head + i) & this.mask])
  }

  /** The belt has stood still for `ticks`. */
  delay(ticks: number): void {
    this.shift += ticks
  }

  private grow(): void {
    this.wafers = unrolled(this.wafers, this.head)
    this.exits = unrolled(this.exits, this.head)
    this.mask = this.exits.length - 1
    this.head = 0
  }
}
