import { type PeoplePlan, TICKS_PER_WEEK } from '../plan/plan.ts'
import { type Blocks, COARSE_BLOCKS } from './blocks.ts'

/** Classes of the wait for people: 32 per doubling from one second on, so a percentile is right to about 1 %. */
const PER_DOUBLING = 32
const FIRST = 1e6
export const WAIT_BINS = PER_DOUBLING * 20 + 1

function waitBin(wait: number): number {
  if (wait < FIRST) return 0
  return Math.min(WAIT_BINS - 1, 1 + Math.floor(Math.log2(wait / FIRST) * PER_DOUBLING))
}

/** Lower edge of a class [ticks]. */
export function waitEdge(bin: number): number {
  return bin === 0 ? 0 : FIRST * 2 ** ((bin - 1) / PER_DOUBLING)
}

/**
 * What the people do, by coarse block: work by shift [person x ticks], calls, their
 * waits. A job is booked when it is granted, for as long as it will last, in the blocks
 * in which it falls; the wait (from the call until people are there) in that of the call.
 */
export class CrewBook {
  private readonly shifts: number
  /** Block x crew x shift (the last column: outside all shifts). */
  readonly work: Float64Array
  /** Block x crew. */
  readonly calls: Float64Array
  readonly waited: Float64Array
  /** Block x crew x class. */
  readonly waits: Uint32Array

  constructor(
    private readonly people: PeoplePlan,
    private readonly blocks: Blocks,
  ) {
    const crews = people.crews.length
    this.shifts = people.shifts.length + 1
    this.work = new Float64Array(COARSE_BLOCKS * crews * this.shifts)
    this.calls = new Float64Array(COARSE_BLOCKS * crews)
    this.waited = new Float64Array(COARSE_BLOCKS * crews)
    this.waits = new Uint32Array(COARSE_BLOCKS * crews * WAIT_BINS)
  }

  granted(crew: number, people: number, called: number, time: number, reached: number, ends: number): void {
    const cell = this.blockOf(called) * this.people.crews.length + crew
    const wait = reached - called
    this.calls[cell]++
    this.waited[cell] += wait
    this.waits[cell * WAIT_BINS + waitBin(wait)]++
    for (let from = time; from < Math.min(ends, this.blocks.horizon); ) {
      const block = this.blockOf(from)
      const { shift, until } = this.shiftAt(from)
      const to = Math.min(ends, this.blocks.horizon, (block + 1) * this.blocks.coarse, until)
      this.work[(block * this.people.crews.length + crew) * this.shifts + shift] += people * (to - from)
      from = to
    }
  }

  private blockOf(time: number): number {
    return Math.min(COARSE_BLOCKS - 1, Math.floor(time / this.blocks.coarse))
  }

  /** The shift at a tick, and when it ends. */
  private shiftAt(time: number): { shift: number; until: number } {
    const { week } = this.people
    const start = time - (time % TICKS_PER_WEEK)
    let at = 0
    while (at + 1 < week.length && start + week[at + 1].from <= time) at++
    const until = at + 1 < week.length ? start + week[at + 1].from : start + TICKS_PER_WEEK
    const { shift } = week[at]
    return { shift: shift < 0 ? this.shifts - 1 : shift, until }
  }
}
