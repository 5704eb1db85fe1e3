import type { BoxesPlan } from '../plan/plan.ts'
import type { Desk } from './desk.ts'
import type { DeskMember } from './desk-calls.ts'
import { drawer, type RunKey } from './draw.ts'
import * as Books from './meter.ts'

const { SWAPS } = Books

/**
 * The boxes at the outputs of a sorter. A box that has become full is swapped for an
 * empty one, which needs people if the plan says so; meanwhile the next box of the output
 * is filled. Nothing happens when a swap ends: whether an output has an empty box is
 * looked up when a cell comes, so the swaps that are granted are all there is to know, and
 * those that are not matter only where an output has no other box.
 */
export class Boxes {
  desk: Desk | undefined
  /** Cells in the box that is being filled, per output. */
  private readonly filled: Float64Array
  /** Of each box of each output: from this tick on it is empty (or being filled); Infinity: full, and nobody has been granted. */
  private readonly emptyFrom: Float64Array
  /** Of each full box: how long its swap lasts, and which it is in the order of calls. */
  private readonly lasts: Float64Array
  private readonly order: Float64Array
  private readonly drawLasts: (() => number)[]
  private swaps = 0
  /** Swaps that wait for people. */
  private open = 0
  /** Outputs that had no empty box when last looked at. */
  private tight: number[] = []
  /** So many cells must be sorted to make a box full. */
  private spare: number

  /** @param handles numbers of the station at the desk that are not outputs */
  constructor(
    readonly plan: BoxesPlan,
    private readonly member: DeskMember,
    private readonly handles: number,
    key: RunKey,
  ) {
    const { outputs, perOutput, lasts } = plan
    this.filled = new Float64Array(outputs)
    this.emptyFrom = new Float64Array(outputs * perOutput)
    this.lasts = new Float64Array(outputs * perOutput)
    this.order = new Float64Array(outputs * perOutput)
    this.drawLasts = Array.from({ length: outputs }, (_, output) =>
      drawer(lasts, key, 1, member.name, `output ${output + 1}`, 'swap'),
    )
    this.spare = plan.holds
  }

  /** Puts a cell into the box of an output, if that has one that is not full. @returns whether it has */
  put(output: number, time: number): boolean {
    if (this.freeFrom(output) > time) return false
    const cells = ++this.filled[output]
    this.spare = Math.min(this.spare, this.plan.holds - cells)
    if (cells === this.plan.holds) this.swap(output, time)
    return true
  }

  /** Puts a cell into the box of an output, if that has one which is not full then either. @returns whether it has */
  takesPlainly(output: number, time: number): boolean {
    return this.filled[output] + 1 < this.plan.holds && this.put(output, time)
  }

  /** The tick from which the output has a box that is not full, as far as is recorded; Infinity when none is. */
  freeFrom(output: number): number {
    const { perOutput } = this.plan
    let from = Infinity
    for (let box = output * perOutput; box < (output + 1) * perOutput; box++)
      if (this.emptyFrom[box] < from) from = this.emptyFrom[box]
    return from
  }

  /** The box that was being filled is full. */
  private swap(output: number, time: number): void {
    const { perOutput, call } = this.plan
    this.member.meter.counter[SWAPS]++
    this.filled[output] = 0
    this.spare = this.plan.holds
    for (let other = 0; other < this.filled.length; other++)
      this.spare = Math.min(this.spare, this.plan.holds - this.filled[other])
    let box = output * perOutput
    while (this.emptyFrom[box] > time) box++
    this.lasts[box] = this.drawLasts[output]()
    this.order[box] = this.swaps++
    this.emptyFrom[box] = call ? Infinity : time + this.lasts[box]
    if (this.freeFrom(output) > time && !this.tight.includes(output)) this.tight.push(output)
    if (!call) return
    this.open++
    this.desk?.call(this.member, this.handles + output, call, time, this.lasts[box])
  }

  /** People reach the output at `reached`, for the box that has been full longest. @returns the tick from which it is empty again */
  granted(output: number, reached: number): number {
    const { perOutput } = this.plan
    let oldest = -1
    for (let box = output * perOutput; box < (output + 1) * perOutput; box++)
      if (this.emptyFrom[box] === Infinity && (oldest < 0 || this.order[box] < this.order[oldest]))
        oldest = box
    this.open--
    this.emptyFrom[oldest] = reached + this.lasts[oldest]
    return this.emptyFrom[oldest]
  }

  /**
   * Up to, not including, this tick it is known which outputs have a box for a cell: one
   * without an empty box at `now` gets none before the next grant and the swap after it.
   */
  knownBefore(now: number): number {
    if (this.open === 0 || this.tight.length === 0) return Infinity
    this.tight = this.tight.filter(output => this.freeFrom(output) > now)
    let shortest = Infinity
    for (const output of this.tight)
      for (let box = output * this.plan.perOutput; box < (output + 1) * this.plan.perOutput; box++)
        if (this.emptyFrom[box] === Infinity) shortest = Math.min(shortest, this.lasts[box])
    return shortest === Infinity ? Infinity : (this.desk as Desk).grantsFrom(this.member) + shortest
  }

  /** So many cells must be sorted before people are called for the next full box; Infinity: nobody is. */
  toNextCall(): number {
    return this.plan.call ? this.spare : Infinity
  }
}
