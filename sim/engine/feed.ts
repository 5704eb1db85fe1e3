import type { FeedPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import type { Departures } from './departures.ts'
import { drawer } from './draw.ts'
import * as Books from './meter.ts'
import { type Seat, Station } from './station.ts'

const { TICKS_PER_WEEK } = Plans
const { TURNED_AWAY } = Books

/** Wafers that wait outside ahead of need, while the cap still allows any number. */
const AHEAD = 4096

/** When wafers have left, in a row, and those that enter for them. */
const LEFT = new Float64Array(256)
const ENTERS = new Int32Array(LEFT.length)

/**
 * Brings wafers to the line by a schedule of its own, or as fast as they find a place.
 * Carriers that find no room wait at the gate, outside the line, or their wafers are
 * turned away. With a cap on wafers one enters for each that leaves; in the hours in
 * which the line runs down or is closed none does. A feed that only keeps a cap puts
 * wafers outside the line as soon as they may enter: they do when they are taken. Acts at equal times: a wafer of the
 * carrier that has come is let in or turned away; what waits at the gate enters; the next
 * carrier arrives.
 */
export class FeedStation extends Station {
  override readonly patient = true
  declare private goOn: Station['advance']
  static {
    FeedStation.prototype.goOn = Station.seldomLoop
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    const capped = this.output.outside && this.allowed === 0
    return capped && !knowsAll ? this.replace(most, limit) : this.goOn(most, limit, knowsAll)
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
  /** What has left again of what the cap counts. */
  departures: Departures | undefined
  /** Wafers that may enter before one must leave. */
  private allowed: number
  private needsDeparture = false
  private needsRoom = false

  constructor(
    readonly plan: FeedPlan,
    seat: Seat,
  ) {
    super(plan.name, seat)
    const { key } = seat
    this.output = seat.outputs[0]
    this.allowed = plan.cap?.wafers ?? Infinity
    this.toCome = plan.every ? plan.wafers : 0
    this.gate = plan.every ? 0 : plan.wafers
    this.drawEvery = plan.every ? drawer(plan.every, key, 0, 'feed', 'every') : () => Infinity
    this.drawCarrier = drawer(plan.carrier, key, 1, 'feed', 'carrier')
    this.nextArrival = this.toCome > 0 ? this.drawEvery() : Infinity
  }

  protected find(): number {
    this.needsDeparture = this.needsRoom = false
    if (this.arriving > 0) return this.now
    if (this.output.outside && this.allowed > 0 && this.output.waiting >= AHEAD) return Infinity
    return this.gate > 0 ? Math.min(this.entry(this.now), this.nextArrival) : this.nextArrival
  }

  /** When a wafer that stands at the gate can enter, as far as is recorded: from `time` on. */
  private entry(time: number): number {
    let entry = this.openAt(time)
    if (this.allowed === 0) {
      const left = (this.departures as Departures).first()
      this.needsDeparture = true
      entry = this.openAt(Math.max(entry, left))
    }
    const place = this.output.roomAt(entry)
    this.needsRoom = place === Infinity
    return place > entry ? this.openAt(place) : entry
  }

  /** The first tick from `time` on at which the gate is open. */
  private openAt(time: number): number {
    if (this.plan.shut.length === 0 || time === Infinity) return time
    const inWeek = time % TICKS_PER_WEEK
    const shut = this.plan.shut.find(({ from, to }) => from <= inWeek && inWeek < to)
    return shut ? this.openAt(time - inWeek + shut.to) : time
  }

  /**
   * A wafer for each that has left, as long as it is known which left first: the acts and
   * promises of the general loop for a feed that only keeps a cap, which has no hours and
   * no carriers, and always finds a place outside the line.
   */
  private replace(most: number, limit: number): number {
    const departures = this.departures as Departures
    for (let acts = 0; ; ) {
      const left = departures.first()
      const known = departures.notBefore(left)
      const time = Math.max(this.now, left)
      if (acts < most && time < limit && known >= left) {
        if (time >= this.meter.nextEdge) this.closeBlocks(time)
        const entered = departures.useRun(known, Math.min(limit, this.meter.nextEdge), LEFT)
        this.enterAll(entered)
        acts += entered
        continue
      }
      this.promises.want(true)
      this.promises.give(Math.min(time, known), Math.min(time, known))
      return acts
    }
  }

  /** Wafers enter outside the line, each when another has left. */
  private enterAll(count: number): void {
    const { wafers, output } = this
    wafers.makeAll(ENTERS, count)
    const { birth } = wafers
    for (let w = 0; w < count; w++) {
      if (LEFT[w] < this.now) LEFT[w] = this.now
      this.now = birth[ENTERS[w]] = LEFT[w]
    }
    this.gate -= count
    output.putAll(ENTERS, LEFT, count)
  }

  protected promise(next: number): void {
    let time = this.output.outside && this.allowed > 0 ? this.now : next
    if (this.gate > 0 && this.arriving === 0) {
      if (this.needsRoom) time = Math.min(time, this.output.takesFrom)
      if (this.needsDeparture) time = Math.min(time, (this.departures as Departures).notBefore(time))
    }
    this.promises.want(this.needsDeparture)
    this.promises.give(time, time)
  }

  protected perform(time: number): void {
    if (this.arriving > 0) this.enterOrTurnAway(time)
    else if (this.gate > 0 && this.entry(time) === time) this.enter(time)
    else this.arrive(time)
  }

  /** Whether all takes (and departures) up to `time` are known that decide what can enter then. */
  protected knows(time: number): boolean {
    if (this.arriving === 0 && this.gate === 0) return true
    if (this.allowed === 0 && !this.knowsDepartures(time)) return false
    return this.output.roomAt(time) < Infinity || this.output.takesFrom > time
  }

  /** Whether it is known which wafer's leaving lets the next one in (one that arrives: whether any has by now). */
  private knowsDepartures(time: number): boolean {
    const departures = this.departures as Departures
    const left = departures.first()
    const known = departures.notBefore(left)
    return known >= left || (left > time && known > time)
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
    if (this.entry(time) === time) this.put(time)
    else this.meter.counter[TURNED_AWAY]++
  }

  private enter(time: number): void {
    if (this.output.outside && this.allowed > 0) {
      this.waitOutside(time)
      return
    }
    this.gate--
    this.put(time)
  }

  /** As many as may wait ahead of need, or as the cap allows. */
  private waitOutside(time: number): void {
    const ahead = Math.min(AHEAD - this.output.waiting, this.gate, this.allowed)
    for (let left = ahead; left > 0; left -= LEFT.length) {
      const count = Math.min(left, LEFT.length)
      LEFT.fill(time, 0, count)
      this.enterAll(count)
    }
    this.allowed -= ahead
  }

  private put(time: number): void {
    if (this.allowed === 0) this.departures?.useFirst()
    else this.allowed--
    const wafer = this.wafers.make()
    this.wafers.birth[wafer] = time
    if (this.output.bounded) this.output.useRoom(time)
    this.output.put(wafer, time)
    if (!this.output.outside) this.meter.countFlow(0, time)
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
    if (this.gate === 0) return 'nothing, the last wafer has come'
    return this.needsDeparture ? 'a wafer to leave, at the cap' : 'a free place behind it'
  }
}
