import { Loads } from './loads.ts'
import { DONE, DOWN, LOADING, PLAIN, WATCHED } from './phases.ts'
import { Station } from './station.ts'

/** The acts, in their order at equal times. */
const PUT = 0
const EVENT = 1
const LOAD = 2
const COAT = 3

/**
 * Batch tools: tubes, several behind one loader per tool, all before one input. Acts at
 * equal times: a tube hands wafers over; tube events, lower tube first; a tube is loaded,
 * the one that has been idle longest first.
 *
 * A full load starts when its last wafer is there. A short load (at least `least`) starts
 * when its `least`-th wafer has waited `longestWait`, half a tick later: so everything
 * that arrives in the same tick is taken along, whoever acts first in it. It takes what
 * became ready before its start.
 */
export class BatchStation extends Loads {
  declare advance: Station['advance']
  static {
    BatchStation.prototype.advance = Station.ownLoop()
  }

  private act = EVENT
  private tube = 0
  private needsRoom = false
  private needsWafer = false

  protected find(): number {
    this.needsRoom = this.needsWafer = false
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
    const tube = this.nextToLoad(now)
    if (tube < 0) return before
    if (this.boats.length === 0) return this.mark(LOAD, tube, this.loadReady(), before)
    const boats = this.boats[this.toolOf(tube)]
    if (boats.coatsNext()) return this.mark(COAT, tube, boats.readyAt(now), before)
    const ready = this.loadReady()
    if (ready === Infinity) return before
    const first = this.nextToLoad(ready)
    return this.mark(LOAD, first, this.boats[this.toolOf(first)].readyAt(ready), before)
  }

  private mark(act: number, tube: number, time: number, before: number): number {
    if (time >= before) return before
    this.act = act
    this.tube = tube
    return time
  }

  /** The tube to be loaded of those whose loader is free, for a load that is ready at `ready`: whose boat is ready first, then who is served first, then who has been idle longest; -1: none. */
  private nextToLoad(ready: number): number {
    let best = -1
    let bestTime = Infinity
    for (let place = 0; place < this.idle.count; place++) {
      const tube = this.idle.at(place)
      const tool = this.toolOf(tube)
      if (this.loaderHolds[tool] >= 0) continue
      const time = this.boats.length > 0 ? this.boats[tool].readyAt(ready) : ready
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

  /** When the recorded wafers make a load. */
  private loadReady(): number {
    const { input, now } = this
    const { load } = this.plan
    if (input.endless) return now
    const full = input.waiting >= load ? Math.max(now, this.readyOf(load)) : Infinity
    if (full === Infinity) this.needsWafer = true
    return Math.min(full, this.shortReady())
  }

  /** When a short load may start, as far as is recorded. */
  private shortReady(): number {
    const { load, least, longestWait } = this.plan
    if (least === load || this.input.endless || this.input.waiting < least) return Infinity
    return Math.max(this.now, this.readyOf(least) + longestWait + 0.5)
  }

  /** When the n-th waiting wafer became or becomes ready. */
  private readyOf(n: number): number {
    return this.input.ready[(this.input.head + n - 1) & this.input.mask]
  }

  protected perform(time: number): void {
    if (this.act === COAT) this.coatBoat(this.tube, time)
    else if (this.act === LOAD) this.startLoad(this.tube, time, this.shortReady() <= time ? time : Infinity)
    else if (this.act === PUT) this.emit(this.tube, time)
    else this.event(this.tube, time)
  }

  protected knows(time: number): boolean {
    if (this.calls.knownUntil() < time) return false
    if (this.needsRoom && !(this.customers[0].earliestTake > time)) return false
    if (!this.needsWafer || this.suppliers[0] === undefined) return true
    return this.suppliers[0].putsNotBefore(this.input) + this.input.delay >= time
  }

  protected promise(next: number): void {
    let take = Math.min(next, this.calls.earliestUp())
    if (this.needsRoom) take = Math.min(take, this.customers[0].earliestTake)
    if (this.needsWafer && this.suppliers[0])
      take = Math.min(take, this.suppliers[0].putsNotBefore(this.input) + this.input.delay)
    let put = take + 1
    for (let t = 0; t < this.tools; t++)
      if (this.size[t] > 0) put = Math.min(put, this.phase[t] === DONE ? take : this.upAt(t))
    if (this.full.count > 0) put = Math.min(put, take)
    this.earliestTake = take
    this.earliestPut = put
    if (this.reworkChannel) this.earliestBack = this.nextBack(take)
  }

  /** No tube can have ended its next work on a load with a wafer for rework before, taking none before `take`. */
  private nextBack(take: number): number {
    let back = Infinity
    for (let t = 0; t < this.tools; t++) {
      const phase = this.phase[t]
      const works = phase === PLAIN || phase === WATCHED || phase === DOWN
      const holdsOne = this.outcome.toNextRework(t) <= this.size[t]
      if (works && holdsOne) back = Math.min(back, this.upAt(t))
      else if (phase === LOADING && holdsOne) back = Math.min(back, this.at[t] + this.nextWork[t])
      else back = Math.min(back, take + this.nextWork[t])
    }
    return back
  }

  /** At the end of the work on the load that the wafer is in: this one, or a later one. */
  protected endsNotBefore(tube: number, pieces: number, from: number): number {
    const phase = this.phase[tube]
    if (phase === LOADING) return this.at[tube] + this.nextWork[tube]
    const works = phase === PLAIN || phase === WATCHED || phase === DOWN
    if (works && pieces <= this.size[tube]) return this.upAt(tube)
    return Math.max(from, this.now) + this.nextWork[tube]
  }

  waitsFor(): string {
    if (this.full.count > 0) return 'free places behind it'
    const waiting = this.input.waiting
    return this.idle.count > 0 ? `a load of ${this.plan.least} (${waiting} wafers are waiting)` : 'its tubes'
  }
}
