import type { StopClass } from '../plan/plan.ts'
import { type Blocks, FINE_PER_COARSE } from './blocks.ts'
import { STAYS } from './classes.ts'
import { START } from './start.ts'

/** States of a tool by SEMI E10, standby split in starved and blocked, waiting for the crew apart. */
export const PRODUCTIVE = 0
export const STARVED = 1
export const BLOCKED = 2
export const UNSCHEDULED_DOWN = 3
export const SCHEDULED_DOWN = 4
export const WAITING_FOR_CREW = 5
export const ENGINEERING = 6
export const NON_SCHEDULED = 7
export const STATES = 8

/** State of a tool under a stop of each class. */
export const STATE_UNDER: Record<StopClass, number> = {
  unscheduled: UNSCHEDULED_DOWN,
  scheduled: SCHEDULED_DOWN,
  supply: SCHEDULED_DOWN,
  closed: NON_SCHEDULED,
}

/** Counters of a station, besides its flows. */
export const STARTS = 0
export const BROKEN = 1
export const REJECTED = 2
export const REWORKED = 3
export const LOST = 4
export const TURNED_AWAY = 5
/** Sums over good wafers that leave the line here: stay [ticks], efficiency [fraction]. */
export const STAY_SUM = 6
export const EFFICIENCY_SUM = 7
/** Ideal time of the services that have ended [ticks], for the performance of ISO 22400-2. */
export const IDEAL_TIME = 8
/** Good wafers that left the line here, and the summed stays of lost ones [ticks]. */
export const GOOD = 9
export const LOST_STAY_SUM = 10
/** Of the lost wafers, those that were set-up wafers after a stop. */
export const SET_UP = 11
/** Tools with boxes: full ones swapped, and tool time held since an output had none for its cell [ticks]. */
export const SWAPS = 12
export const HELD_TIME = 13
/** Batch tools: places of short loads filled with dummy wafers. */
export const DUMMIES = 14
/** Carriers: taken to be filled for the first time after they were cleaned, or in place of broken ones. */
export const CLEANED = 15
export const REPLACED = 16
export const COUNTERS = 17

/** Per time limit: wafers that came late, of them scrapped, and sent back. */
export const LATE_COUNT = 0
export const LATE_SCRAPPED = 1
export const LATE_BACK = 2
export const LATE_COLUMNS = 3

/** Per stop: how often, tool time down [ticks], wafers lost, part of the time spent waiting for people [ticks]. */
export const STOP_COUNT = 0
export const STOP_TIME = 1
export const STOP_LOST = 2
export const STOP_WAIT = 3
export const STOP_COLUMNS = 4

/** What a station is made of, as far as the meter must know. */
export interface MeterShape {
  /** Flows in and out, one per channel, in this order; then the wafers that leave the line here. */
  readonly flows: number
  readonly tools: number
  readonly stops: number
  readonly bins: number
  readonly timeLimits: number
  /** Steps of the line, for a tester that finds what they have spoilt; else 0. */
  readonly origins: number
  /** Good wafers leave the line here. */
  readonly exits: boolean
}

/**
 * The books of one station. Everything is cumulative, written down at the end of each
 * block, and exact: whole numbers in doubles.
 *
 * A flow counts wafers through one door. Beside the count it keeps, per fine block,
 * wafer x ticks from the passage of each wafer to the end of the block. From both follows
 * the time average of wafers in a place: what was there at the start of the block, plus
 * the flows in, minus the flows out, whichever station keeps which.
 */
export class Meter {
  /** Start and end of the current part of a fine block [ticks]. */
  base = START
  nextEdge = START
  private partIndex = 0
  /** Current part per flow: wafers, and sum of (tick - base) over them. */
  readonly flow: Float64Array
  /** Earlier parts of the current fine block: wafers, and wafer x ticks to the end of the last part. */
  private readonly passed: Float64Array
  private readonly area: Float64Array
  /** Wafers up to the end of the last fine block. */
  private readonly total: Float64Array
  readonly counter = new Float64Array(COUNTERS)
  readonly state: Float64Array
  readonly stop: Float64Array
  readonly bin: Float64Array
  /** Wafers by time limit, see LATE_COUNT and on. */
  readonly late: Float64Array
  /** Wafers rejected here for a hidden defect, by the step that made it. */
  readonly origin: Float64Array
  /** Longest of each stop [ticks], over the whole run. */
  readonly longest: Float64Array

  /** Row b is the value at the end of block b - 1; row 0 is zero. */
  readonly countRows: Float64Array
  /** Good wafers that have left the line here, per fine block. */
  readonly goodRows: Float64Array
  /** Not cumulative: wafer x ticks within block b - 1. */
  readonly areaRows: Float64Array
  readonly counterRows: Float64Array
  readonly stateRows: Float64Array
  readonly stopRows: Float64Array
  readonly binRows: Float64Array
  readonly lateRows: Float64Array
  readonly originRows: Float64Array
  /** Stays of good wafers by coarse block and class of stay. */
  readonly stays: Uint32Array
  /** Where those of the present block begin; class of the last. */
  private staysFrom = 0
  private lastStay = 0

  constructor(
    readonly shape: MeterShape,
    readonly blocks: Blocks,
  ) {
    this.nextEdge = blocks.fine / blocks.parts
    this.flow = new Float64Array(2 * shape.flows)
    this.passed = new Float64Array(shape.flows)
    this.area = new Float64Array(shape.flows)
    this.total = new Float64Array(shape.flows)
    this.state = new Float64Array(shape.tools * STATES)
    this.stop = new Float64Array(shape.stops * STOP_COLUMNS)
    this.longest = new Float64Array(shape.stops)
    this.bin = new Float64Array(shape.bins)
    this.late = new Float64Array(shape.timeLimits * LATE_COLUMNS)
    this.origin = new Float64Array(shape.origins)
    const fineRows = blocks.fineCount + 1
    this.countRows = new Float64Array(fineRows * shape.flows)
    this.goodRows = new Float64Array(fineRows)
    const rows = blocks.coarseCount + 1
    this.areaRows = new Float64Array(fineRows * shape.flows)
    this.counterRows = new Float64Array(rows * COUNTERS)
    this.stateRows = new Float64Array(rows * this.state.length)
    this.stopRows = new Float64Array(rows * this.stop.length)
    this.binRows = new Float64Array(rows * shape.bins)
    this.lateRows = new Float64Array(rows * this.late.length)
    this.originRows = new Float64Array(rows * shape.origins)
    this.stays = new Uint32Array(shape.exits ? blocks.coarseCount * STAYS.count : 0)
  }

  /** A wafer goes by a door of the station. */
  countFlow(door: number, time: number): void {
    this.flow[2 * door]++
    this.flow[2 * door + 1] += time - this.base
  }

  /** Counts wafers taken at the first input and put into the first output, and the sums of the ticks at which they were, from `base` on. */
  countThrough(taken: number, takenSum: number, put: number, putSum: number): void {
    const { flow } = this
    flow[0] += taken
    flow[1] += takenSum
    flow[2] += put
    flow[3] += putSum
  }

  /** A good wafer leaves the line. */
  leave(stay: number, efficiency: number): void {
    this.counter[GOOD]++
    this.counter[STAY_SUM] += stay
    this.counter[EFFICIENCY_SUM] += efficiency
    this.lastStay = STAYS.of(stay, this.lastStay)
    this.stays[this.staysFrom + this.lastStay]++
  }

  /** True when a coarse block ends with the part that ends now: tool times must be up to date first. */
  endsCoarse(): boolean {
    const { parts } = this.blocks
    return (this.partIndex + 1) % (parts * FINE_PER_COARSE) === 0
  }

  /** Writes down the part that ends now. */
  closePart(): void {
    const { fine, parts } = this.blocks
    this.partIndex++
    this.closeFlows(fine / parts)
    if (this.partIndex % parts === 0) this.closeFine(this.partIndex / parts)
    this.staysFrom = Math.floor(this.partIndex / (parts * FINE_PER_COARSE)) * STAYS.count
    this.nextEdge = (this.partIndex + 1) * (fine / parts)
  }

  private closeFlows(length: number): void {
    for (let f = 0; f < this.shape.flows; f++) {
      const count = this.flow[2 * f]
      this.area[f] += this.passed[f] * length + count * length - this.flow[2 * f + 1]
      this.passed[f] += count
    }
    this.flow.fill(0)
    this.base += length
  }

  private closeFine(row: number): void {
    const { flows } = this.shape
    for (let f = 0; f < flows; f++) {
      this.total[f] += this.passed[f]
      this.countRows[row * flows + f] = this.total[f]
      this.areaRows[row * flows + f] = this.area[f]
    }
    this.passed.fill(0)
    this.area.fill(0)
    this.goodRows[row] = this.counter[GOOD]
    if (row % FINE_PER_COARSE === 0) this.closeCoarse(row / FINE_PER_COARSE)
  }

  private closeCoarse(row: number): void {
    this.counterRows.set(this.counter, row * COUNTERS)
    this.stateRows.set(this.state, row * this.state.length)
    this.stopRows.set(this.stop, row * this.stop.length)
    this.binRows.set(this.bin, row * this.bin.length)
    this.lateRows.set(this.late, row * this.late.length)
    this.originRows.set(this.origin, row * this.origin.length)
  }
}
