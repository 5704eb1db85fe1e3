import type { Channel } from './channel.ts'
import type { Signals } from './signals.ts'
import * as Roles from './signals.ts'
import { START } from './start.ts'

const { CUSTOMERS, OTHERS, SUPPLIERS } = Roles

/**
 * What a station promises, whatever may still arrive: no take (or request) before `take`,
 * no put before `put`. They only ever grow, and neighbours read them off the channel
 * between. An object of its own, of one shape for all kinds of stations: so the compiler
 * knows where its fields are, which of seven kinds it does not.
 */
export class Promises {
  take = START
  put = START
  private readonly input: Channel | undefined
  private readonly output: Channel | undefined

  constructor(
    private readonly position: number,
    inputs: readonly Channel[],
    outputs: readonly Channel[],
    private readonly signals: Signals,
  ) {
    this.input = inputs[0]
    this.output = outputs[0]
  }

  /** Gives the promises, as far as they concern the first input and the first output. */
  give(take: number, put: number): void {
    if (take > this.take || put > this.put) this.signals.grew = true
    this.take = take
    this.put = put
    if (this.input) this.input.takesFrom = take
    if (this.output) this.output.putsFrom = put
  }

  /** Says whose news matter to the station as it stands: what it waits for, and what its promises rest on. */
  hear(suppliers: boolean, customers: boolean): void {
    const { hears } = this.signals
    const heard = hears[this.position] & OTHERS
    hears[this.position] = heard | (suppliers ? SUPPLIERS : 0) | (customers ? CUSTOMERS : 0)
  }

  /** Says whether the station waits for what those with whom it shares something do or promise. */
  want(news: boolean): void {
    const { hears } = this.signals
    if (news) hears[this.position] |= OTHERS
    else hears[this.position] &= ~OTHERS
  }
}
