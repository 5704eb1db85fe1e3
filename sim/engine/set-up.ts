import { openStream, type Stream } from '../chance/streams.ts'
import type { StopPlan } from '../plan/plan.ts'
import type { RunKey } from './draw.ts'

/**
 * Set-up wafers: the first that a tool finishes after a stop, by which it is set up. They
 * are taken from the wafers of the line and are lost. A wafer that breaks is one of them.
 */
export class SetUp {
  /** Wafers up to and including the next set-up wafer, per tool; Infinity: none is to come. */
  readonly left: Float64Array
  /** Set-up wafers still to come, and the stop they are put down to. */
  private readonly wanted: Float64Array
  private readonly stop: Int16Array
  private readonly chance: Stream[]

  constructor(
    private readonly stops: readonly StopPlan[],
    name: string,
    tools: number,
    { seed, replication }: RunKey,
  ) {
    this.left = new Float64Array(tools).fill(Infinity)
    this.wanted = new Float64Array(tools)
    this.stop = new Int16Array(tools).fill(-1)
    this.chance = Array.from({ length: tools }, (_, t) =>
      openStream(seed, replication, name, `tool ${t + 1}`, 'set-up wafers'),
    )
  }

  /**
   * A stop is over. When set-up wafers of another are still to come, the same serve both:
   * the stop that asks for more counts.
   *
   * @param ahead wafers inside that were taken before the stop was over
   */
  renewed(tool: number, stop: number, ahead: number): void {
    const [least, most] = this.stops[stop].setUp
    const wafers = least < most ? least + Math.floor(this.chance[tool]() * (most - least + 1)) : most
    if (wafers === 0 || wafers < this.wanted[tool]) return
    this.wanted[tool] = wafers
    this.stop[tool] = stop
    this.left[tool] = ahead + 1
  }

  /**
   * At least so many wafers must end before one of them is a set-up wafer: one that is to come, or the one after
   * the last piece that a stop counts. What other stops ask for is known when they strike.
   *
   * @param pieces until each stop strikes, as the outcome counts them
   */
  toNext(tool: number, pieces: Float64Array): number {
    let next = this.left[tool]
    for (let s = 0; s < this.stops.length; s++)
      if (this.stops[s].setUp[1] > 0) next = Math.min(next, pieces[s * this.left.length + tool] + 1)
    return next
  }

  /** A wafer inside is lost: those taken after it come a wafer earlier. @param ahead wafers inside that were taken before it */
  lostInside(tool: number, ahead: number): void {
    if (this.left[tool] < Infinity && ahead < this.left[tool] - 1) this.left[tool]--
  }

  /** @returns the stop that the wafer which ends now is a set-up wafer of; -1: it is none */
  hit(tool: number): number {
    if (this.left[tool] > 0) return -1
    this.left[tool] = --this.wanted[tool] > 0 ? 1 : Infinity
    return this.stop[tool]
  }
}
