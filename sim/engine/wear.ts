import { openStream, type Stream } from '../chance/streams.ts'
import type { CarriersPlan } from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

/** What a boat or a carrier comes back from after a use. */
export type BackFrom = 'use' | 'cleaning' | 'breakage'

/** Boats or carriers that are used again and again: after so many uses one is cleaned, now and then one breaks and is replaced. */
export class Wear {
  /** How long the one whose use ended last is away for it [ticks]; 0: not at all. */
  away = 0
  private readonly uses: Int32Array
  private readonly drawCleaning: () => number
  private readonly drawReplacing: () => number
  private readonly chance: Stream

  /** @param what of the names of the streams: boat, carrier */
  constructor(
    private readonly plan: Pick<CarriersPlan, 'cleaning' | 'breakage'>,
    number: number,
    name: string,
    what: string,
    key: RunKey,
  ) {
    const { cleaning, breakage } = plan
    const fixed = { kind: 'fixed', value: 0 } as const
    this.uses = new Int32Array(number)
    this.drawCleaning = drawer(cleaning?.lasts ?? fixed, key, 0, name, `${what} cleaning`)
    this.drawReplacing = drawer(breakage?.replacedAfter ?? fixed, key, 0, name, `${what} replacing`)
    this.chance = openStream(key.seed, key.replication, name, `${what} breakage`)
    // Those of a running line are at different points between two cleanings.
    for (let i = 0; i < number && cleaning; i++) this.uses[i] = Math.floor((i * cleaning.every) / number)
  }

  /** A use has ended. */
  endUse(index: number): BackFrom {
    const { cleaning, breakage } = this.plan
    this.uses[index]++
    const broken = breakage !== undefined && this.chance() < breakage.share
    const due = cleaning !== undefined && this.uses[index] >= cleaning.every
    this.away = broken ? this.drawReplacing() : due ? this.drawCleaning() : 0
    if (broken || due) this.uses[index] = 0
    return broken ? 'breakage' : due ? 'cleaning' : 'use'
  }
}
