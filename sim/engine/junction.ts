import type { JunctionPlan } from '../plan/plan.ts'
import { join } from './junction-flow.ts'
import * as Hosts from './junction-host.ts'
import { Lanes } from './junction-host.ts'
import { split } from './junction-split.ts'
import { type Seat, Station } from './station.ts'

const { EMPTY } = Hosts

/**
 * Where flows join or split: takes the wafer that has waited longest, holds it for one
 * tick, and hands it to the lane that the rule names among those that have room. Wafers
 * that became ready in the same tick are taken from the supplier furthest down the route
 * first, which is the order in which they were put. An endless supply comes last.
 */
export class JunctionStation extends Station {
  /** The loop of one act after another. */
  declare private goOn: Station['advance']
  static {
    JunctionStation.prototype.goOn = Station.busyLoop
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    if (knowsAll || this.flow === 'neither') return this.goOn(most, limit, knowsAll)
    let acts = 0
    for (;;) {
      acts += this.hurry(limit)
      const one = this.goOn(1, limit, false)
      acts += one
      if (one === 0 || acts >= most) return acts
    }
  }

  override hurry(limit: number): number {
    const edge = this.meter.nextEdge
    const stop = Math.min(limit, edge)
    if (this.flow === 'joins') {
      if (this.holds !== EMPTY && this.outputs[0].roomLeft === 0) this.press()
      const handed = this.handHeld(stop)
      return handed + join(this, stop, edge)
    }
    return this.flow === 'splits' ? split(this, stop) : 0
  }

  holds = EMPTY
  private positions: Int32Array | undefined
  /** `in turn`: lane to try first. `least full`: order number of the last wafer per lane, for ties. */
  turn = 0
  readonly lastSent: Float64Array
  sent = 0
  readonly lanes: Lanes
  /** Which of the fast loops can be used. */
  private readonly flow: 'joins' | 'splits' | 'neither'
  /** Door of the next act, left by `find`; -1: none recorded. */
  private door = -1

  constructor(
    readonly plan: JunctionPlan,
    seat: Seat,
  ) {
    super(plan.name, seat)
    this.lastSent = new Float64Array(seat.outputs.length)
    this.lanes = new Lanes(seat.outputs.length)
    const { inputs, outputs } = seat
    const inOrder = inputs.every(input => !input.lifo)
    const places = outputs.every(output => output.bounded && !output.direct)
    const joins = outputs.length === 1 && !outputs[0].direct && !inputs.some(input => input.endless)
    if (inOrder && joins) this.flow = 'joins'
    else this.flow = inOrder && places && inputs.length === 1 ? 'splits' : 'neither'
  }

  protected find(): number {
    return this.holds === EMPTY ? this.findTake() : this.findPut()
  }

  protected perform(time: number): void {
    if (this.holds === EMPTY) this.take(time)
    else this.hand(time)
  }

  protected knows(time: number): boolean {
    return this.holds === EMPTY ? this.knowsTake(time) : this.knowsPut(time)
  }

  protected promise(next: number): void {
    this.promises.hear(this.holds === EMPTY, this.holds !== EMPTY)
    let time = next
    if (this.holds === EMPTY) {
      for (let i = 0; i < this.inputs.length; i++)
        if (this.isQuiet(i)) time = Math.min(time, Math.max(this.now, this.inputs[i].arrivesFrom()))
      this.promised(time, time + 1)
      return
    }
    for (let k = 0; k < this.outputs.length; k++)
      time = Math.min(time, Math.max(this.now, this.outputs[k].takesFrom))
    this.promised(time, time)
  }

  protected promised(take: number, put: number): void {
    this.promises.give(take, put)
    for (let i = 1; i < this.inputs.length; i++) this.inputs[i].takesFrom = take
    for (let k = 1; k < this.outputs.length; k++) this.outputs[k].putsFrom = put
  }

  /** With one lane each wafer taken must be handed on before the next: from the second on, places decide. */
  override takesNotBefore(count: number): number {
    const output = this.outputs[0]
    const places = count - 1 + (this.holds === EMPTY ? 0 : 1)
    if (this.outputs.length > 1 || places <= 0 || !output.bounded || output.direct) return this.promises.take
    const place =
      places <= output.roomLeft
        ? output.room[(output.roomHead + places - 1) & output.roomMask]
        : output.takesFrom
    return Math.max(this.promises.take, place)
  }

  // ---- taking ------------------------------------------------------------------

  /** Nothing recorded waits at this input. */
  private isQuiet(i: number): boolean {
    return this.inputs[i].waiting === 0 && !this.inputs[i].endless
  }

  positionOf(i: number): number {
    this.positions ??= Int32Array.from(this.suppliers, supplier => supplier?.position ?? -1)
    return this.positions[i]
  }

  private findTake(): number {
    this.door = -1
    let ready = Infinity
    let endless = -1
    for (let i = 0; i < this.inputs.length; i++) {
      const input = this.inputs[i]
      if (input.endless) endless = i
      if (input.endless || input.waiting === 0) continue
      const time = input.ready[input.head]
      if (time > ready || (time === ready && this.positionOf(i) < this.positionOf(this.door))) continue
      ready = time
      this.door = i
    }
    if (endless >= 0 && ready > this.now) {
      this.door = endless
      return this.now
    }
    return Math.max(ready, this.now)
  }

  private knowsTake(time: number): boolean {
    if (this.door < 0) return false
    const chosen = this.inputs[this.door]
    const ready = chosen.endless ? time : chosen.ready[chosen.head]
    for (let i = 0; i < this.inputs.length; i++) {
      if (!this.isQuiet(i)) continue
      const bound = this.inputs[i].arrivesFrom()
      if (bound < ready || (bound === ready && this.goesFirst(i))) return false
    }
    return true
  }

  /** Whether of two wafers of the same tick the one at this input would be taken before the one at the chosen door. */
  private goesFirst(i: number): boolean {
    const position = this.positionOf(i)
    const chosen = this.positionOf(this.door)
    return position > chosen || (position === chosen && i > this.door)
  }

  /**
   * The wafer to be taken was put by a supplier that ran ahead within this tick; one
   * further down the route, which acts before that supplier, has still to act.
   */
  override yieldsTo(): Station | undefined {
    if (this.holds !== EMPTY || this.find() === Infinity || this.inputs[this.door].endless) return undefined
    const ready = this.inputs[this.door].ready[this.inputs[this.door].head]
    return this.suppliers.find(
      (other, i) => other && this.isQuiet(i) && this.goesFirst(i) && other.pending() <= ready,
    )
  }

  private take(time: number): void {
    const input = this.inputs[this.door]
    this.holds = this.takeFrom(input, time)
    this.meter.countFlow(this.door, time)
    this.now = time + 1
    this.handAtOnce(time + 1)
  }

  /** With one lane nothing competes: when its next place is free already, the wafer needs no act of its own. */
  private handAtOnce(time: number): void {
    if (this.outputs.length > 1 || time >= this.meter.nextEdge || this.outputs[0].roomAt(time) !== time)
      return
    this.door = 0
    this.hand(time)
  }

  // ---- handing over ------------------------------------------------------------

  private findPut(): number {
    let first = Infinity
    for (const output of this.outputs) first = Math.min(first, output.roomAt(this.now))
    this.door = first < Infinity ? this.choose(first) : -1
    return first
  }

  /** The lane that the rule names among those that have room at `time`. */
  private choose(time: number): number {
    const lanes = this.outputs.length
    let best = -1
    let fewest = Infinity
    for (let k = 0; k < lanes; k++) {
      const lane = this.plan.split === 'in turn' ? (this.turn + k) % lanes : k
      if (this.outputs[lane].roomAt(this.now) > time) continue
      if (this.plan.split === 'in turn') return lane
      const fill = this.outputs[lane].fillAt(time)
      if (fill > fewest || (fill === fewest && this.lastSent[lane] >= this.lastSent[best])) continue
      fewest = fill
      best = lane
    }
    return best
  }

  /** With one lane nothing competes: a recorded place is enough. */
  private knowsPut(time: number): boolean {
    if (this.door < 0) return false
    if (this.outputs.length === 1) return true
    for (let k = 0; k < this.outputs.length; k++) {
      const output = this.outputs[k]
      const settled =
        this.plan.split === 'in turn' ? output.roomAt(this.now) < Infinity : output.fillKnownAt(time)
      if (!settled && !(output.takesFrom > time)) return false
    }
    return true
  }

  /** With one lane: hands on what is held, if its place is recorded. @returns acts done */
  private handHeld(stop: number): number {
    if (this.holds === EMPTY) return 0
    const time = this.outputs[0].roomAt(this.now)
    if (!(time < stop)) return 0
    this.now = time
    this.door = 0
    this.hand(time)
    return 1
  }

  private hand(time: number): void {
    const output = this.outputs[this.door]
    if (output.bounded) output.useRoom(time)
    output.put(this.holds, time)
    this.meter.countFlow(this.inputs.length + this.door, time)
    this.turn = (this.door + 1) % this.outputs.length
    this.lastSent[this.door] = ++this.sent
    this.holds = EMPTY
  }

  protected accrue(_time: number): void {}

  inside(): number[] {
    return this.holds === EMPTY ? [] : [this.holds]
  }

  waitsFor(): string {
    return this.holds === EMPTY ? 'wafers' : 'a free place behind it'
  }
}
