import { CarriersWork, MOST_CALLS } from './carriers-work.ts'
import { START } from './start.ts'
import { Station } from './station.ts'

/** The acts, in their order at equal times. */
const ARRIVE = 0
const LEAVE = 1
const CALL = 2
const CLOSE = 3
const TAKE = 4

/**
 * Carriers between two stations, see CarriersWork: which act comes next, and what may be promised.
 *
 * Acts at equal times: a carrier arrives; carriers leave with whoever moves them; people
 * or a vehicle are called; a carrier goes as full as it is; a wafer is taken in. One that
 * goes partly filled does so half a tick after it is due: whoever acts first within the
 * tick, the same wafers are in.
 */
export class CarriersStation extends CarriersWork {
  override readonly patient = true
  declare private goOn: Station['advance']
  static {
    CarriersStation.prototype.goOn = Station.seldomLoop
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    this.runsTo = knowsAll ? 0 : limit
    return this.goOn(most, limit, knowsAll)
  }

  /** Wafers may be taken in ahead up to, not including, this tick; 0: one at a time. */
  private runsTo = START

  private act = TAKE
  private needsWafer = false
  private needsEmptied = false
  /** The empty carrier that comes first by what is recorded may not do so: others were away for less long. */
  private needsFirst = false
  private earliestCall = START
  /** When the next wafer can be taken in, by what is recorded. */
  private nextTake = Infinity
  /** When another act comes first. */
  private nextOther = Infinity

  // ---- the next act ------------------------------------------------------------

  protected find(): number {
    this.needsWafer = this.needsEmptied = this.needsFirst = false
    this.readEmptied()
    let time = this.mark(ARRIVE, 0, this.moving.nextExit(), Infinity)
    time = this.findLeaving(time)
    if (this.filled > 0 && this.plan.longestWait < Infinity) time = this.mark(CLOSE, 0, this.closesAt(), time)
    this.nextOther = time
    return this.findTake(time)
  }

  /** When the carrier that is being filled goes as full as it is. */
  private closesAt(): number {
    return this.filledFrom + this.plan.longestWait + 0.5
  }

  private mark(act: number, trip: number, time: number, before: number): number {
    if (time >= before) return before
    this.act = act
    this.trip = trip
    return time
  }

  private findLeaving(before: number): number {
    const { waiting, plan } = this
    if (waiting.count === 0) return before
    if (!plan.call) {
      if (this.readyOf(1) === Infinity) this.needsEmptied = true
      return this.mark(LEAVE, -1, this.readyOf(1), before)
    }
    // How many go with who comes depends on the places that are free by then.
    const goWith = Math.min(waiting.count, plan.perTrip)
    if (this.trips.length > 0 && this.placeOf(goWith) === Infinity) this.needsEmptied = true
    let time = before
    for (let index = 0; index < this.trips.length; index++)
      time = this.mark(LEAVE, index, this.trips[index].there, time)
    const n = this.trips.length * plan.perTrip + 1
    if (n > waiting.count || this.trips.length === MOST_CALLS) return time
    if (this.readyOf(n) === Infinity) this.needsEmptied = true
    return this.mark(CALL, 0, this.readyOf(n), time)
  }

  private findTake(before: number): number {
    const { input } = this
    let from = this.takenAt
    this.nextTake = Infinity
    if (this.filled === 0) {
      if (this.empties.count === 0) {
        this.needsEmptied = true
        return before
      }
      this.needsFirst = this.empties.wear && this.empties.inUse
      from = Math.max(from, this.empties.nextReady())
    }
    if (input.waiting === 0 && !input.endless) {
      this.needsWafer = true
      return before
    }
    this.nextTake = input.endless ? from : Math.max(from, input.ready[input.head])
    return this.mark(TAKE, 0, this.nextTake, before)
  }

  protected knows(time: number): boolean {
    if (this.knownUntil() < time) return false
    // An emptied carrier, or a place at the far end, that is not recorded yet.
    if (this.needsEmptied && !(this.emptiedNotBefore() > time)) return false
    if (this.needsFirst && this.soonerNotBefore() <= time) return false
    return !this.needsWafer || this.input.arrivesFrom() >= time
  }

  /** Before this tick no carrier comes that is not recorded and is here before those that are; Infinity: none can. */
  private soonerNotBefore(): number {
    const bound = this.emptyNotBefore()
    return bound < this.empties.nextReady() ? bound : Infinity
  }

  /**
   * With trips that are not granted: no carrier leaves before the grant, and none arrives
   * before the way is done. Until then a wafer that does not fill its carrier can be taken
   * in ahead: nothing that a grant brings about looks at it.
   */
  private knownUntil(): number {
    const harmless = this.act === TAKE && this.filled + 1 < this.plan.holds
    return harmless ? this.harmlessUntil() : this.calls.noGrantBefore()
  }

  private harmlessUntil(): number {
    const until = this.calls.noGrantBefore()
    return Math.min(until + this.shortestWay, Math.max(until, this.meter.nextEdge - 1))
  }

  protected promise(next: number): void {
    let acts = Math.min(next, this.calls.noGrantBefore())
    if (this.needsEmptied) acts = Math.min(acts, this.emptiedNotBefore())
    if (this.needsFirst) acts = Math.min(acts, this.soonerNotBefore())
    if (this.needsWafer) acts = Math.min(acts, this.input.arrivesFrom())
    this.earliestCall = this.nextCall()
    // A trip may leave before wafers that were taken in ahead of its grant.
    const leaves = this.trips.length > 0 ? acts : Math.max(acts, this.now)
    this.promises.give(this.takeNotBefore(), Math.min(this.moving.nextExit(), leaves + this.shortestWay))
    this.promises.want(this.calls.count > 0)
  }

  /** A wafer is taken in when it is there and a carrier is: who moves the full ones does not matter. */
  private takeNotBefore(): number {
    if (this.filled === 0 && this.empties.count === 0) return this.emptyNotBefore()
    if (this.needsWafer) return this.input.arrivesFrom()
    if (!this.needsFirst) return this.nextTake
    return Math.min(this.nextTake, Math.max(this.takenAt, this.soonerNotBefore()))
  }

  /** Before this tick nobody is called: a carrier must be full (or its time be over), and have its place. */
  private nextCall(): number {
    if (!this.plan.call) return Infinity
    const n = this.trips.length * this.plan.perTrip + 1
    if (n <= this.waiting.count) {
      const ready = this.readyOf(n)
      return ready < Infinity ? ready : this.emptiedNotBefore()
    }
    const { input, filled } = this
    const missing = this.plan.holds - filled
    const last =
      input.waiting >= missing
        ? input.ready[(input.head + missing - 1) & input.mask]
        : this.input.arrivesFrom()
    const filling = input.endless ? this.takenAt : last
    if (filled > 0) return Math.max(this.takenAt, Math.min(filling, this.filledFrom + this.plan.longestWait))
    const empty = this.emptyNotBefore()
    const first = input.waiting > 0 || input.endless ? this.takenAt : this.input.arrivesFrom()
    return Math.max(this.takenAt, empty, Math.min(filling, Math.max(empty, first) + this.plan.longestWait))
  }

  /** What a grant still to come may bring about comes after it, so it does not count. */
  callsNotBefore(): number {
    let bound = this.earliestCall
    for (const trip of this.trips) bound = Math.min(bound, trip.there)
    return bound
  }

  protected perform(time: number): void {
    if (this.act === TAKE) {
      this.take(time)
      if (this.runsTo > 0) this.takeOn()
    } else if (this.act === ARRIVE) this.arrive(time)
    else if (this.act === LEAVE) this.leave(time)
    else if (this.act === CALL) this.call(time)
    else this.close(time)
  }

  /**
   * Eager drive: after a wafer has been taken in, those that follow into the same carrier,
   * but for the one that fills it: the acts that would follow, as long as each wafer is
   * recorded and comes before any other act. None of them changes what else may happen,
   * but that a carrier which is begun closes in time.
   */
  private takeOn(): void {
    const { input, plan } = this
    if (this.filled === 0 || input.endless || input.lifo) return
    const { ready, wafer, outside } = input
    const mask = input.mask | 0
    const { held, meter, wafers } = this
    const base = meter.base - 0
    const givesRoom = input.bounded && !input.direct && !outside
    const { room } = input
    const roomMask = input.roomMask | 0
    const roomTail = (input.roomHead + input.roomLeft) | 0
    const firstHead = input.head | 0
    const emptied = this.needsEmptied ? this.emptiedNotBefore() : Infinity
    const before = Math.min(this.runsTo, this.meter.nextEdge, this.nextOther, this.closesAt(), emptied)
    const until = this.harmlessUntil()
    const most = Math.min(input.waiting, plan.holds - 1 - this.filled)
    let takenAt = this.takenAt - 0
    let taken = 0
    let takenSum = 0
    for (; taken < most; taken++) {
      const came = ready[(firstHead + taken) & mask]
      const time = came > takenAt ? came : takenAt
      if (!(time < before) || time > until) break
      if (outside) wafers.birth[wafer[(firstHead + taken) & mask]] = time
      else if (givesRoom) room[(roomTail + taken) & roomMask] = time
      takenSum += time - base
      takenAt = time
    }
    held.addAll(wafer, mask, firstHead, taken, 0)
    if (givesRoom) input.roomLeft += taken
    input.head = (firstHead + taken) & mask
    input.waiting -= taken
    meter.flow[0] += taken
    meter.flow[1] += takenSum
    this.filled += taken
    this.takenAt = this.now = takenAt
  }
}
