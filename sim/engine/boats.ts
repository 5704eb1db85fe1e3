import { openStream, type Stream } from '../chance/streams.ts'
import type { BoatsPlan } from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

/**
 * The boats of one batch tool. A load holds one from loading until it is unloaded; then
 * it cools, and from time to time is away for cleaning, or is broken and replaced. The
 * boat that is ready first is taken first.
 */
export class Boats {
  /** Tick at which each is ready for a load; Infinity: it holds one. */
  private readonly ready: Float64Array
  private readonly runs: Int32Array
  /** 1: back from cleaning, goes through a tube once without wafers. */
  private readonly bare: Uint8Array
  private readonly drawCooling: () => number
  private readonly drawCleaning: () => number
  private readonly drawReplacing: () => number
  private readonly drawCoating: () => number
  private readonly chance: Stream

  constructor(
    private readonly plan: BoatsPlan,
    name: string,
    key: RunKey,
  ) {
    const { perTool, cooling, cleaning, breakage } = plan
    const fixed = { kind: 'fixed', value: 0 } as const
    this.ready = new Float64Array(perTool)
    this.runs = new Int32Array(perTool)
    this.bare = new Uint8Array(perTool)
    this.drawCooling = drawer(cooling, key, 0, name, 'boat cooling')
    this.drawCleaning = drawer(cleaning?.lasts ?? fixed, key, 0, name, 'boat cleaning')
    this.drawCoating = drawer(cleaning?.coating ?? fixed, key, 1, name, 'boat coating')
    this.drawReplacing = drawer(breakage?.replacedAfter ?? fixed, key, 0, name, 'boat replacing')
    this.chance = openStream(key.seed, key.replication, name, 'boat breakage')
    // Boats of a running line are at different points between two cleanings.
    for (let b = 0; b < perTool && cleaning; b++) this.runs[b] = Math.floor((b * cleaning.every) / perTool)
  }

  /** When a boat is ready, at `now` or later; Infinity: when one comes back. */
  readyAt(now: number): number {
    return Math.max(now, this.ready[this.first()])
  }

  private first(): number {
    let best = 0
    for (let b = 1; b < this.ready.length; b++) if (this.ready[b] < this.ready[best]) best = b
    return best
  }

  /** Takes the boat that is ready first. @returns its number */
  take(): number {
    const boat = this.first()
    this.ready[boat] = Infinity
    return boat
  }

  /** Whether the boat that comes next must be coated first; then how long the tube is busy with that [ticks]. */
  coatsNext(): boolean {
    return this.bare[this.first()] === 1
  }

  /** The boat that comes next goes through a tube without wafers. @returns how long that takes [ticks] */
  coat(time: number): number {
    const boat = this.first()
    const lasts = this.drawCoating()
    this.bare[boat] = 0
    this.ready[boat] = time + lasts
    return lasts
  }

  /** A boat has been unloaded at `time`. */
  giveBack(boat: number, time: number): void {
    const { cleaning, breakage } = this.plan
    this.runs[boat]++
    this.ready[boat] = time + this.drawCooling()
    if (breakage && this.chance() < breakage.share) {
      this.ready[boat] = time + this.drawReplacing()
      this.runs[boat] = 0
    } else if (cleaning && this.runs[boat] >= cleaning.every) {
      this.ready[boat] = time + this.drawCleaning()
      this.runs[boat] = 0
      this.bare[boat] = cleaning.coating ? 1 : 0
    }
  }
}
