import { Ahead } from '../chance/ahead.ts'
import { openStream, type Stream } from '../chance/streams.ts'
import type { Plan, TimeLimitPlan } from '../plan/plan.ts'
import { grown } from './grown.ts'

/** The row of a wafer that is made by itself. */
const ONE = new Int32Array(1)

/** Nobody asks when wafers left a step. */
const NO_STAMPS = new Float64Array(1)

/**
 * All wafers of a run as rows of typed arrays. A row number is a handle and nothing more:
 * which row a wafer gets differs between the drives, so no figure may depend on it.
 *
 * Free rows are taken in turn, round the table, not the last one first: wafers that enter
 * one after another then lie beside each other, and so do those of a load or a queue, which
 * saves the memory most of its work.
 */
export class Wafers {
  /** Tick at which the wafer entered the line. */
  birth = new Float64Array(1024)
  /** Efficiency as the process makes it, fraction, but for what is in `spread`; unused without an efficiency in the plan. */
  efficiency: Float64Array
  /**
   * Variance of what is still to be drawn of the efficiency. Scores of several steps that nobody looks
   * at between are one score of the sum of their variances, so they are drawn when somebody does (`made`).
   */
  spread: Float64Array
  private readonly loops: number
  /** Passes through each rework loop: row * loops + loop. */
  private passes: Uint8Array
  /** 1: some pass of the wafer is counted. Few are, and a line may have dozens of loops. */
  private wasBack: Uint8Array
  /** Tick at which the wafer left a step, one array per step that a time limit counts from. */
  readonly stamps: Float64Array[]
  /** Step (index + 1) that has given it a hidden defect; 0: none. Empty when no step of the line does. */
  mark: Uint16Array
  /** 1: a cap on wafers counts it no longer, wherever it goes. Empty when the cap counts until wafers leave the line. */
  uncounted: Uint8Array
  /** 1: the wafer counts for a cap on loads; one array per such cap. */
  readonly counted: Uint8Array[]
  /** Class of a cell as the last test has sorted it. Empty when no later step has boxes for it. */
  cells: Int32Array
  /** A bit per row, 1: it is a wafer's. */
  private taken = new Int32Array(32)
  private live = 0
  private last = -1
  private readonly drawEfficiency: (() => number) | undefined
  private readonly startSpread: number

  constructor(plan: Plan, seed: string, replication: number) {
    this.loops = plan.loops
    this.passes = new Uint8Array(1024 * Math.max(plan.loops, 0))
    this.wasBack = new Uint8Array(plan.loops > 0 ? 1024 : 0)
    this.stamps = Array.from({ length: plan.stamps }, () => new Float64Array(1024))
    this.mark = new Uint16Array(plan.marks ? 1024 : 0)
    const capped = plan.stations.some(station => station.kind === 'feed' && (station.cap?.until ?? -1) >= 0)
    this.uncounted = new Uint8Array(capped ? 1024 : 0)
    this.counted = Array.from({ length: plan.caps }, () => new Uint8Array(1024))
    const boxed = plan.stations.some(s => 'outcome' in s && s.outcome.boxes && !s.outcome.test?.bins)
    this.cells = new Int32Array(boxed ? 1024 : 0)
    const e = plan.efficiency
    this.efficiency = new Float64Array(e ? 1024 : 0)
    this.spread = new Float64Array(e ? 1024 : 0)
    this.startSpread = e ? e.sd * e.sd : 0
    if (e) this.drawEfficiency = efficiencySampler(e, openStream(seed, replication, 'wafers', 'efficiency'))
  }

  /** Takes a row for a wafer that enters the line. Rows are made before the wafer is born: the caller sets `birth`. */
  make(): number {
    this.makeAll(ONE, 1)
    return ONE[0]
  }

  /** Takes rows for so many wafers, one after the other, into an array. */
  makeAll(rows: Int32Array, count: number): void {
    this.takeFree(rows, count)
    const { drawEfficiency, efficiency, spread, startSpread, mark, uncounted } = this
    if (drawEfficiency)
      for (let w = 0; w < count; w++) {
        efficiency[rows[w]] = drawEfficiency()
        spread[rows[w]] = startSpread
      }
    if (mark.length > 0) for (let w = 0; w < count; w++) mark[rows[w]] = 0
    if (uncounted.length > 0) for (let w = 0; w < count; w++) uncounted[rows[w]] = 0
    for (const counted of this.counted) for (let w = 0; w < count; w++) counted[rows[w]] = 0
    if (this.loops > 0)
      for (let w = 0; w < count; w++) if (this.wasBack[rows[w]] === 1) this.forgetPasses(rows[w])
  }

  /** The efficiency of a wafer, all drawn. @param scores standard normal, of the tool that looks at it */
  made(row: number, scores: Ahead): number {
    const { efficiency, spread } = this
    const variance = spread[row]
    if (variance > 0) {
      efficiency[row] += Math.sqrt(variance) * scores.next()
      spread[row] = 0
    }
    return efficiency[row]
  }

  /** How often the wafer has gone round a rework loop. */
  passesOf(row: number, loop: number): number {
    return this.passes[row * this.loops + loop]
  }

  /** The wafer goes round a rework loop once more. */
  countPass(row: number, loop: number): void {
    this.passes[row * this.loops + loop]++
    this.wasBack[row] = 1
  }

  private forgetPasses(row: number): void {
    this.passes.fill(0, row * this.loops, (row + 1) * this.loops)
    this.wasBack[row] = 0
  }

  /** When wafers left the step that the first of these limits counts from; not to be looked at if there is none. */
  stampsFor(limits: readonly TimeLimitPlan[]): Float64Array {
    return limits.length > 0 ? this.stamps[limits[0].stamp] : NO_STAMPS
  }

  /** Gives the row of a wafer back that has left the line. */
  release(row: number): void {
    this.taken[row >> 5] &= ~(1 << (row & 31))
    this.live--
  }

  /** A quarter of the rows is free, so the next free one is near. */
  private takeFree(rows: Int32Array, count: number): void {
    while (this.live + count > 0.75 * 32 * this.taken.length) this.grow()
    const { taken } = this
    const words = taken.length - 1
    let { last } = this
    let word = ((last + 1) >> 5) & words
    let free = ~taken[word] & (-1 << ((last + 1) & 31))
    for (let w = 0; w < count; w++) {
      while (free === 0) {
        word = (word + 1) & words
        free = ~taken[word]
      }
      const bit = free & -free
      free ^= bit
      taken[word] |= bit
      last = 32 * word + 31 - Math.clz32(bit)
      rows[w] = last
    }
    this.last = last
    this.live += count
  }

  private grow(): void {
    this.taken = grown(this.taken)
    this.birth = grown(this.birth)
    if (this.drawEfficiency) this.efficiency = grown(this.efficiency)
    if (this.drawEfficiency) this.spread = grown(this.spread)
    if (this.loops > 0) this.passes = grown(this.passes)
    if (this.loops > 0) this.wasBack = grown(this.wasBack)
    if (this.mark.length > 0) this.mark = grown(this.mark)
    if (this.uncounted.length > 0) this.uncounted = grown(this.uncounted)
    if (this.cells.length > 0) this.cells = grown(this.cells)
    for (let c = 0; c < this.counted.length; c++) this.counted[c] = grown(this.counted[c])
    for (let s = 0; s < this.stamps.length; s++) this.stamps[s] = grown(this.stamps[s])
  }
}

/** Wafers of one ingot lot share a shift; what scatters wafer by wafer comes later (`spread`). */
function efficiencySampler(e: NonNullable<Plan['efficiency']>, stream: Stream): () => number {
  const scores = new Ahead(stream, 'normal')
  let left = 0
  let lot = 0
  return () => {
    if (e.lotWafers > 0 && left-- === 0) {
      lot = e.lotSd * scores.next()
      left = e.lotWafers - 1
    }
    return e.mean + lot
  }
}
