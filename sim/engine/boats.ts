import type { BoatsPlan } from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'
import { Wear } from './wear.ts'

/**
 * The boats of one batch tool. A load holds one from loading until it is unloaded; then
 * it cools, and from time to time is away for cleaning, or is broken and replaced. The
 * boat that is ready first is taken first.
 */
export class Boats {
  /** Tick at which each is ready for a load; Infinity: it holds one. */
  private readonly ready: Float64Array
  /** 1: back from cleaning, goes through a tube once without wafers. */
  private readonly bare: Uint8Array
  private readonly drawCooling: () => number
  private readonly drawCoating: () => number
  private readonly wear: Wear

  constructor(
    private readonly plan: BoatsPlan,
    name: string,
    key: RunKey,
  ) {
    const { perTool, cooling, cleaning } = plan
    const fixed = { kind: 'fixed', value: 0 } as const
    this.ready = new Float64Array(perTool)
    this.bare = new Uint8Array(perTool)
    this.drawCooling = drawer(cooling, key, 0, name, 'boat cooling')
    this.drawCoating = drawer(cleaning?.coating ?? fixed, key, 1, name, 'boat coating')
    this.wear = new Wear(plan, perTool, name, 'boat', key)
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
    const from = this.wear.endUse(boat)
    const cooling = this.drawCooling()
    this.ready[boat] = time + (from === 'use' ? cooling : this.wear.away)
    if (from === 'cleaning') this.bare[boat] = this.plan.cleaning?.coating ? 1 : 0
  }
}
