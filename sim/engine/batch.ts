import type { Departures } from './departures.ts'
import { EmptyRuns } from './empty-runs.ts'
import * as Phases from './phases.ts'
import { Station } from './station.ts'

const { DONE, DOWN, LOADING, PLAIN, WATCHED } = Phases

/** The acts, in their order at equal times. */
const PUT = 0
const EVENT = 1
const LOAD = 2
const COAT = 3
const CONDITION = 4
const COUNT = 5

/**
 * Batch tools: tubes, several behind one loader per tool, all before one input. Acts at
 * equal times: a tube hands wafers over; tube events, lower tube first; a tube is loaded,
 * the one that has been idle longest first; under a cap, wafers that have left what it
 * counts are counted, as long as a load waits for them.
 *
 * A tube that has been without work for too long must be conditioned before it is loaded.
 * One that needs it not is loaded first. When a load finds none, the one that would be
 * loaded is conditioned, as many as there are loads waiting.
 *
 * A full load starts when its last wafer is there. A short load (at least `least`) starts
 * when its `least`-th wafer has waited `longestWait`, half a tick later: so everything
 * that arrives in the same tick is taken along, whoever acts first in it. It takes what
 * became ready before its start.
 */
export class BatchStation extends EmptyRuns {
  override readonly patient = true
  override readonly few = 256
  declare private goOn: Station['advance']
  static {
    BatchStation.prototype.goOn = Station.busyLoop
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    this.runsTo = knowsAll ? 0 : limit
    return this.goOn(most, limit, knowsAll)
  }

  private act = EVENT
  private tube = 0
  private needsRoom = false
  private needsWafer = false
  /** From this tick on a load is there that waits for wafers to leave; Infinity: none does. */
  private waitsFrom = Infinity
  /** When another act than counting comes first. */
  private nextOther = Infinity

  protected find(): number {
    this.needsRoom = this.needsWafer = false
    this.waitsFrom = Infinity
    let time = Infinity
    this.act = EVENT
    for (let t = 0; t < this.tools; t++)
      if (this.at[t] < time) {
        time = this.at[t]
        this.tube = t
      }
    if (this.full.count > 0) {
      const place = this.exit ? this.now : this.output.roomAt(this.now)
      if (place === Infinity) this.needsRoom = true
      else if (place <= time) {
        time = place
        this.tube = this.full.first()
        this.act = PUT
      }
    }
    return this.findLoad(time)
  }

  private findLoad(before: number): number {
    const { now } = this
    const tube = this.nextToLoad(now, Infinity)
    if (tube < 0) return before
    const boats = this.boatsFor(tube)
    if (boats?.coatsNext()) return this.mark(COAT, tube, boats.readyAt(now), before)
    const ready = this.loadReady(0)
    if (ready === Infinity) return before
    if (this.allowed < this.plan.load) return this.findDeparture(ready, before)
    const first = this.nextToLoad(ready, this.clocks.idle.longest)
    return first < 0 ? this.findRun(before) : this.mark(LOAD, first, this.startAt(first, ready), before)
  }

  /** No tube can take the load that is ready: one is conditioned for the first load that has none yet. */
  private findRun(before: number): number {
    const ready = this.loadReady(this.conditioning * this.plan.load)
    if (ready === Infinity) return before
    const tube = this.nextToLoad(ready, Infinity)
    return this.mark(CONDITION, tube, this.startAt(tube, ready), before)
  }

  /** When a load that is ready at `ready` has its boat. */
  private startAt(tube: number, ready: number): number {
    return this.boatsFor(tube)?.readyAt(ready) ?? ready
  }

  /** The cap has no room for a full load, though wafers for a load are there at `ready`: the next that leaves what it counts. */
  private findDeparture(ready: number, before: number): number {
    this.waitsFrom = ready
    this.nextOther = before
    return this.mark(COUNT, 0, Math.max(ready, (this.departures as Departures).first()), before)
  }

  /** Before this tick the cap gets no room by departures that are not recorded, for a load that waits for it; not looked for beyond `enough`. */
  private roomNotBefore(enough: number): number {
    if (this.waitsFrom > enough) return this.waitsFrom
    return Math.max(this.waitsFrom, (this.departures as Departures).notBefore(enough))
  }

  private mark(act: number, tube: number, time: number, before: number): number {
    if (time >= before) return before
    this.act = act
    this.tube = tube
    return time
  }

  /** The tube to be loaded of those whose loader is free, for a load that is ready at `ready`: whose boat is ready first, then who is served first, then who has been idle longest; -1: none. @param idle longest time without work that a tube may have behind it then */
  private nextToLoad(ready: number, idle: number): number {
    let best = -1
    let bestTime = Infinity
    for (let place = 0; place < this.idle.count; place++) {
      const tube = this.idle.at(place)
      const tool = this.toolOf(tube)
      if (this.loaderHolds[tool] >= 0) continue
      const time = this.startAt(tube, ready)
      if (time - this.finish[tube] > idle) continue
      const sameTool = best >= 0 && this.toolOf(best) === tool
      if (
        best >= 0 &&
        time >= bestTime &&
        !(time === bestTime && sameTool && this.servesBefore(tube, best, tool))
      )
        continue
      best = tube
      bestTime = time
    }
    return best
  }

  /** When the recorded wafers make a load, `before` of them being spoken for. */
  private loadReady(before: number): number {
    const { input, now } = this
    const { load } = this.plan
    if (input.endless) return now
    const full = input.waiting >= before + load ? Math.max(now, this.readyOf(before + load)) : Infinity
    if (full === Infinity) this.needsWafer = true
    return Math.min(full, this.shortReady(before))
  }

  /** When a short load may start, as far as is recorded. */
  private shortReady(before: number): number {
    const { load, least, longestWait } = this.plan
    if (least === load || this.input.endless || this.input.waiting < before + least) return Infinity
    return Math.max(this.now, this.readyOf(before + least) + longestWait + 0.5)
  }

  /** When the n-th waiting wafer became or becomes ready. */
  private readyOf(n: number): number {
    return this.input.ready[(this.input.head + n - 1) & this.input.mask]
  }

  protected perform(time: number): void {
    if (this.act === COUNT) this.makeRoom(this.departures as Departures)
    else if (this.act === COAT) this.coatBoat(this.tube, time)
    else if (this.act === CONDITION) this.conditionTube(this.tube, time)
    else if (this.act === LOAD) this.startLoad(this.tube, time, this.shortReady(0) <= time ? time : Infinity)
    else if (this.act === PUT) this.emit(this.tube, time)
    else this.event(this.tube, time)
  }

  /**
   * A wafer has left what the cap counts, and in the eager drive those that leave after it,
   * until there is room for a load: the acts that would follow, as long as each is known
   * and comes before any other act.
   */
  private makeRoom(departures: Departures): void {
    const { input, output } = this
    let before = Math.min(this.runsTo, this.meter.nextEdge, this.nextOther)
    if (this.needsRoom) before = Math.min(before, output.takesFrom)
    const until = Math.min(this.calls.knownUntil(), this.needsWafer ? input.arrivesFrom() : Infinity)
    // Which boat comes next, and so whether it must be coated, may change from tick to tick.
    if (this.coats()) before = 0
    for (;;) {
      departures.useFirst()
      this.allowed++
      const left = departures.first()
      if (this.allowed === this.plan.load || !(left < before) || left > until) return
      if (left > this.now) {
        if (!(this.roomNotBefore(left) >= left)) return
        this.now = left
      }
    }
  }

  // ---- knowledge and promises --------------------------------------------------

  protected knows(time: number): boolean {
    if (this.calls.knownUntil() < time) return false
    if (this.waitsFrom < time && !(this.roomNotBefore(time) >= time)) return false
    if (this.needsRoom && !(this.output.takesFrom > time)) return false
    if (!this.needsWafer) return true
    // A short load takes whatever is there by then.
    return (this.act <= EVENT ? this.loadNotBefore() : this.input.arrivesFrom()) >= time
  }

  /** Before this tick what is not recorded makes no load. */
  private loadNotBefore(): number {
    const { input } = this
    const { load, least, longestWait } = this.plan
    const [supplier] = this.suppliers
    if (supplier?.outputs[0] !== input || input.waiting >= load) return input.arrivesFrom()
    let bound = supplier.putsNotBefore(load - input.waiting)
    if (input.waiting < least && least < load)
      bound = Math.min(bound, supplier.putsNotBefore(least - input.waiting) + longestWait)
    return Math.max(bound + input.delay, input.arrivesFrom())
  }

  protected promise(next: number): void {
    let take = Math.min(next, this.calls.earliestUp())
    if (this.needsRoom) take = Math.min(take, this.output.takesFrom)
    if (this.waitsFrom < Infinity) take = Math.min(take, this.roomNotBefore(take))
    if (this.needsWafer) take = Math.min(take, Math.max(this.promises.take, this.loadNotBefore()))
    let put = take + 1
    for (let t = 0; t < this.tools; t++)
      if (this.size[t] > 0) put = Math.min(put, this.phase[t] === DONE ? take : this.upAt(t))
    if (this.full.count > 0) put = Math.min(put, take)
    this.promised(take, put)
    this.promises.hear(this.needsWafer, this.needsRoom)
    if (this.sendsBack) this.promiseBack(take, take)
  }

  /** At the end of the work on the load that the wafer is in: this one, or a later one. */
  protected endsNotBefore(tube: number, pieces: number, from: number): number {
    const phase = this.phase[tube]
    if (phase === LOADING) return this.at[tube] + this.nextWork[tube]
    const works = phase === PLAIN || phase === WATCHED || phase === DOWN
    if (works && pieces <= this.size[tube]) return this.upAt(tube)
    return Math.max(from, this.now) + this.nextWork[tube]
  }

  quietUntil(): number {
    const { at } = this
    let until = this.calls.knownUntil()
    for (let t = 0; t < this.tools; t++) if (at[t] < until) until = at[t]
    if (this.nextToLoad(this.now, Infinity) < 0) return until
    if (this.coats()) return this.now
    this.needsWafer = false
    until = Math.min(until, this.loadReady(0))
    return this.needsWafer ? Math.min(until, this.loadNotBefore()) : until
  }

  protected override wantsNews(): boolean {
    return this.waitsFrom < Infinity || super.wantsNews()
  }

  waitsFor(): string {
    if (this.full.count > 0) return 'free places behind it'
    if (this.waitsFrom < Infinity) return 'wafers to leave, at its cap'
    const waiting = this.input.waiting
    return this.idle.count > 0 ? `a load of ${this.plan.least} (${waiting} wafers are waiting)` : 'its tubes'
  }
}
