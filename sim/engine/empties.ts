import type { CarriersPlan } from '../plan/plan.ts'
import type { RunKey } from './draw.ts'
import * as Books from './meter.ts'
import { Tail } from './tail.ts'
import { Wear } from './wear.ts'

const { CLEANED, REPLACED } = Books

/** What a carrier comes back from, when it was neither cleaned nor broken. */
export const STRAIGHT = -1

/**
 * Empty carriers, by the tick from which each can be filled. After so many fillings one
 * is away for cleaning, now and then one is broken and replaced. The one that is ready
 * first is taken first, at equal ticks the one that was emptied first.
 *
 * Carriers do not overtake each other while there is something in them, so they are
 * emptied in the order in which they were taken.
 */
export class Empties {
  /** Whether they may be ready in another order than they were emptied in. */
  readonly wear: boolean
  private readonly ready = new Tail(8)
  private readonly used = new Tail(8)
  /** Counter of what each comes back from; STRAIGHT: nothing. */
  private readonly backFrom: Int8Array
  private readonly worn: Wear

  constructor(
    private readonly plan: CarriersPlan,
    key: RunKey,
  ) {
    const { name, number, cleaning, breakage } = plan
    this.wear = cleaning !== undefined || breakage !== undefined
    this.backFrom = new Int8Array(number).fill(STRAIGHT)
    this.worn = new Wear(plan, number, name, 'carrier', key)
    for (let c = 0; c < number; c++) this.ready.add(c, 0)
  }

  get count(): number {
    return this.ready.count
  }

  /** Whether there are wafers in some. */
  get inUse(): boolean {
    return this.used.count > 0
  }

  /** When the first is ready to be filled; Infinity: none is empty. */
  nextReady(): number {
    return this.ready.nextExit()
  }

  /** Takes the one that is ready first. @returns the counter of what it comes back from, or STRAIGHT */
  take(): number {
    const carrier = this.ready.takeFirst()
    this.used.add(carrier, 0)
    const from = this.backFrom[carrier]
    this.backFrom[carrier] = STRAIGHT
    return from
  }

  /** The one that was taken first has been emptied at `time`. */
  giveBack(time: number): void {
    const carrier = this.used.takeFirst()
    const from = this.worn.endUse(carrier)
    if (from !== 'use') this.backFrom[carrier] = from === 'breakage' ? REPLACED : CLEANED
    this.ready.insert(carrier, time + this.plan.back + this.worn.away)
  }
}
