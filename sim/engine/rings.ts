import type { ChannelPlan } from '../plan/plan.ts'
import { Foretold } from './foretold.ts'
import { grown, unrolled } from './grown.ts'
import { START } from './start.ts'

/** Of a bounded ring: so many entries at least, since what is foretold comes on top of the places. */
const LEAST = 64

/** What a channel holds: rings that grow where nothing bounds them. */
export class Rings {
  readonly bounded: boolean
  readonly direct: boolean
  readonly endless: boolean
  readonly outside: boolean
  readonly lifo: boolean
  readonly delay: number
  readonly capacity: number

  /** Wafers recorded and not yet taken, oldest at `head`. */
  waiting = 0
  head = 0
  mask: number
  wafer: Int32Array
  /** Tick at which each is ready to be taken. */
  ready: Float64Array

  /** Free places recorded and not yet used, oldest at `roomHead`. */
  roomLeft = 0
  roomHead = 0
  roomMask: number
  room: Float64Array
  /** Direct channels: the request holds for puts before this tick. */
  voidFrom: Float64Array
  /** Direct channels: the tool that asks. */
  asker: Int32Array
  /** No request holds for certain from this tick on: people may come to a tool before. */
  unsureFrom = Infinity

  /** What the consumer foretells of its takes. */
  readonly foretold = new Foretold()

  /** What both ends promise: before these ticks nothing is put, or taken (or asked for), that is not recorded. */
  putsFrom = START
  takesFrom = START

  /** Last-in-first-out: wafers that have entered, newest on top. */
  stack: Int32Array
  stacked = 0

  constructor(plan: ChannelPlan) {
    this.capacity = plan.capacity
    this.bounded = plan.capacity !== Infinity && plan.from >= 0
    this.direct = plan.capacity === 0 && plan.from >= 0
    this.endless = plan.from < 0
    this.outside = plan.outside
    this.lifo = plan.lifo
    this.delay = plan.delay
    if (this.endless) this.putsFrom = Infinity
    const size = powerOfTwo(this.bounded ? Math.max(plan.capacity, LEAST) : 1024)
    this.mask = size - 1
    this.wafer = new Int32Array(size)
    this.ready = new Float64Array(size)
    const rooms = this.bounded ? size : 1
    this.roomMask = rooms - 1
    this.room = new Float64Array(rooms)
    this.voidFrom = new Float64Array(this.direct ? rooms : 1)
    this.asker = new Int32Array(this.direct ? rooms : 1)
    if (this.bounded) this.roomLeft = plan.capacity
    this.stack = new Int32Array(plan.lifo ? size : 1)
  }

  /** Rows of the wafers that are in the line here. */
  inside(): number[] {
    if (this.outside) return []
    const waiting = Array.from({ length: this.waiting }, (_, i) => this.wafer[(this.head + i) & this.mask])
    return [...waiting, ...this.stack.subarray(0, this.stacked)]
  }

  protected push(wafer: number): void {
    if (this.stacked === this.stack.length) this.stack = grown(this.stack)
    this.stack[this.stacked++] = wafer
  }

  protected growArrivals(): void {
    const size = this.wafer.length
    this.wafer = unrolled(this.wafer, this.head)
    this.ready = unrolled(this.ready, this.head)
    this.head = 0
    this.mask = size * 2 - 1
  }

  protected growRequests(): void {
    const size = this.room.length
    this.room = unrolled(this.room, this.roomHead)
    this.voidFrom = unrolled(this.voidFrom, this.roomHead)
    this.asker = unrolled(this.asker, this.roomHead)
    this.roomHead = 0
    this.roomMask = size * 2 - 1
  }
}

function powerOfTwo(least: number): number {
  let size = 1
  while (size < least) size *= 2
  return size
}
