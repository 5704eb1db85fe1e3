import type { FeedPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import { drawer, type RunKey } from './draw.ts'
import { type Meter, TURNED_AWAY } from './meter.ts'
import { Station } from './station.ts'
import type { Wafers } from './wafers.ts'

/**
 * Brings wafers to the line by a schedule of its own. Carriers that find no room wait
 * at the gate, outside the line, or their wafers are turned away. Acts at equal times:
 * a wafer of the carrier that has come is let in or turned away; what waits at the gate
 * enters; the next carrier arrives.
 */
export class FeedStation extends Station {
  declare advance: Station['advance']
  static {
    FeedStation.prototype.advance = Station.ownLoop()
  }

  private readonly output: Channel
  private readonly drawEvery: () => number
  private readonly drawCarrier: () => number
  /** Tick of the next arrival; Infinity when the last has come. */
  private nextArrival: number
  /** Wafers at the gate; wafers still to come. */
  private gate = 0
  /** Wafers of a carrier that has just come and will be let in or turned away, one after another. */
  private arriving = 0
  private toCome: number

  constructor(
    readonly plan: FeedPlan,
    position: number,
    outputs: readonly Channel[],
    meter: Meter,
    wafers: Wafers,
    key: RunKey,
  ) {
    super(position, plan.name, [], outputs, meter, wafers)
    this.output = outputs[0]
    this.toCome = plan.wafers
    this.drawEvery = drawer(plan.every, key, 0, 'feed', 'every')
    this.drawCarrier = drawer(plan.carrier, key, 1, 'feed', 'carrier')
    this.nextArrival = this.toCome > 0 ? this.drawEvery() : Infinity
  }

  protected find(): number {
    if (this.arriving > 0) return this.now
    return this.gate > 0 ? Math.min(this.output.roomAt(this.now), this.nextArrival) : this.nextArrival
  }

  protected promise(next: number): void {
    const waits = this.gate > 0 && this.output.roomAt(this.now) === Infinity
    const time = waits ? Math.min(next, this.customers[0].earliestTake) : next
    this.earliestTake = this.earliestPut = time
  }

  protected perform(time: number): void {
    if (this.arriving > 0) this.enterOrTurnAway(time)
    else if (this.gate > 0 && this.output.roomAt(time) === time) this.enter(time)
    else this.arrive(time)
  }

  /** Whether all takes up to `time` are known that decide what can enter then. */
  protected knows(time: number): boolean {
    if (this.arriving === 0 && this.gate === 0) return true
    return this.output.roomAt(time) < Infinity || this.customers[0].earliestTake > time
  }

  private arrive(time: number): void {
    const wafers = Math.min(this.drawCarrier(), this.toCome)
    this.toCome -= wafers
    this.nextArrival = this.toCome > 0 ? time + this.drawEvery() : Infinity
    if (this.plan.turnsAway) this.arriving = wafers
    else this.gate += wafers
  }

  private enterOrTurnAway(time: number): void {
    this.arriving--
    if (this.output.roomAt(time) === time) this.put(time)
    else this.meter.counter[TURNED_AWAY]++
  }

  private enter(time: number): void {
    this.gate--
    this.put(time)
  }

  private put(time: number): void {
    const wafer = this.wafers.make()
    this.wafers.birth[wafer] = time
    if (this.output.bounded) this.output.useRoom(time)
    this.output.put(wafer, time)
    this.countFlow(0, time)
  }

  /** True when every wafer has come and entered. */
  done(): boolean {
    return this.toCome === 0 && this.gate === 0
  }

  protected accrue(_time: number): void {}

  inside(): number[] {
    return []
  }

  waitsFor(): string {
    return this.gate > 0 ? 'a free place behind it' : 'nothing, the last wafer has come'
  }
}
