import { openStream, type Stream } from '../chance/streams.ts'
import type { CarriersPlan } from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'
import { CLEANED, REPLACED } from './meter.ts'
import { Tail } from './tail.ts'

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
  private readonly fillings: Int32Array
  /** Counter of what each comes back from; STRAIGHT: nothing. */
  private readonly backFrom: Int8Array
  private readonly drawCleaning: () => number
  private readonly drawReplacing: () => number
  private readonly chance: Stream

  constructor(
    private readonly plan: CarriersPlan,
    key: RunKey,
  ) {
    const { name, number, cleaning, breakage } = plan
    const fixed = { kind: 'fixed', value: 0 } as const
    this.wear = cleaning !== undefined || breakage !== undefined
    this.fillings = new Int32Array(number)
    this.backFrom = new Int8Array(number).fill(STRAIGHT)
    this.drawCleaning = drawer(cleaning?.lasts ?? fixed, key, 0, name, 'carrier cleaning')
    this.drawReplacing = drawer(breakage?.replacedAfter ?? fixed, key, 0, name, 'carrier replacing')
    this.chance = openStream(key.seed, key.replication, name, 'carrier breakage')
    for (let c = 0; c < number; c++) {
      this.ready.add(c, 0)
      // Carriers of a running line are at different points between two cleanings.
      if (cleaning) this.fillings[c] = Math.floor((c * cleaning.every) / number)
    }
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
    const { back, cleaning, breakage } = this.plan
    const carrier = this.used.takeFirst()
    const fillings = ++this.fillings[carrier]
    let away = 0
    if (breakage && this.chance() < breakage.share) {
      away = this.drawReplacing()
      this.backFrom[carrier] = REPLACED
    } else if (cleaning && fillings >= cleaning.every) {
      away = this.drawCleaning()
      this.backFrom[carrier] = CLEANED
    }
    if (this.backFrom[carrier] !== STRAIGHT) this.fillings[carrier] = 0
    this.ready.insert(carrier, time + back + away)
  }
}
