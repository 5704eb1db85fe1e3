import type { PeoplePlan } from '../plan/plan.ts'
import { inForce, nextStep } from '../plan/week.ts'
import type { Blocks } from './blocks.ts'
import { WAITS } from './classes.ts'

/**
 * What the people do, by coarse block: work by shift [person x ticks], calls, their
 * waits. A job is booked when it is granted, for as long as it will last, in the blocks
 * in which it falls; the wait (from the call, or from when a tool that has worked on stands,
 * until people are there) in that in which it begins.
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
    const { coarseCount } = blocks
    const crews = people.crews.length
    this.shifts = people.shifts.length + 1
    this.work = new Float64Array(coarseCount * crews * this.shifts)
    this.calls = new Float64Array(coarseCount * crews)
    this.waited = new Float64Array(coarseCount * crews)
    this.waits = new Uint32Array(coarseCount * crews * WAITS.count)
  }

  /** @param waits since when somebody waits, `reached` when nobody does @param time of the grant */
  granted(crew: number, people: number, waits: number, time: number, reached: number, ends: number): void {
    const cell = this.blockOf(waits) * this.people.crews.length + crew
    const wait = reached - waits
    this.calls[cell]++
    this.waited[cell] += wait
    this.waits[cell * WAITS.count + WAITS.of(wait)]++
    for (let from = time; from < Math.min(ends, this.blocks.horizon); ) {
      const block = this.blockOf(from)
      const { shift } = inForce(this.people.week, from)
      const column = shift < 0 ? this.shifts - 1 : shift
      const until = nextStep(this.people.week, from)
      const to = Math.min(ends, this.blocks.horizon, (block + 1) * this.blocks.coarse, until)
      this.work[(block * this.people.crews.length + crew) * this.shifts + column] += people * (to - from)
      from = to
    }
  }

  private blockOf(time: number): number {
    return Math.min(this.blocks.coarseCount - 1, Math.floor(time / this.blocks.coarse))
  }
}
