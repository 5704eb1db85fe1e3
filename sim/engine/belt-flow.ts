import { BeltInfeed } from './belt-infeed.ts'
import { BLOCKED, PRODUCTIVE, STARTS, STARVED, STATES } from './meter.ts'
import { IDLE } from './phases.ts'

/**
 * The fast loops of belts behind a buffer. What enters a belt and what leaves it meet only
 * in the places behind it, and those are reserved in the order of entering. So while nothing
 * but plain work happens, wafers may reach the end ahead of what enters meanwhile (`runOut`),
 * and others enter until the next one reaches the end (`takeIn`), instead of by turns, with
 * the effects of the general loop. At anything that is not plain, or not recorded, that takes
 * over. The strict drive never comes here, so comparing the drives compares the loops.
 */
export abstract class BeltFlow extends BeltInfeed {
  /** `takeIn` has ended since the first wafer on the belts reaches the end before the next one enters, or when it does. */
  private endsFirst = false

  /** @returns acts done before `limit` */
  protected flow(limit: number): number {
    const stop = Math.min(limit, this.meter.nextEdge)
    let acts = this.runOut(stop)
    if (this.active || this.takenDepart || this.clocks.waiting > 0) return acts
    for (;;) {
      const stands = this.full.count > 0
      if (stands ? !this.runsOn(stop) : !this.runsPlainly()) return acts
      if (stands) acts++
      else {
        acts += this.takeIn(stop)
        const out = this.runOut(stop)
        acts += out
        if (!this.endsFirst || (out === 0 && !this.endsNext(stop))) return acts
        if (out === 0) acts++
      }
    }
  }

  /** Every belt runs, its infeed is open, and no stop waits to strike. */
  private runsPlainly(): boolean {
    if (this.ends.count > 0) return false
    for (let t = 0; t < this.tools; t++)
      if (this.still[t] < Infinity || this.striking[t] >= 0 || this.phase[t] !== IDLE) return false
    return true
  }

  /**
   * Wafers enter, the infeed that has been free longest first, as long as each is there and
   * has its place before `stop`, before any event and before a wafer reaches an end.
   *
   * @returns wafers taken
   */
  private takeIn(stop: number): number {
    this.endsFirst = false
    if (!this.hasNext()) return 0
    const { input, free, since, left, finish, calendar, tails, tools } = this
    const { slot, transit, timeLimits } = this.plan
    const { flow, base, state: books } = this.meter
    const { idleLimit } = this.clocks
    const before = this.undisturbedBefore(stop)
    const arrivals = input.lifo ? input.arrivesFrom() : Infinity
    let end = tails[this.nextToExit()].nextExit()
    let { now } = this
    let taken = 0
    let sum = 0
    for (;;) {
      const recorded = input.stacked > 0 || input.endless
      if (!recorded && input.waiting === 0) break
      const place = this.reserved(this.insideAll + taken)
      const tool = tools === 1 ? 0 : this.freest()
      const opens = free[tool]
      const ready = recorded ? opens : input.ready[input.head]
      let time = opens > now ? opens : now
      if (ready > time) time = ready
      if (place > time) time = place
      this.endsFirst = end <= time && time < Infinity
      if (!(time < before && time < end && time <= arrivals)) break
      if (slot > left[tool] || time + slot >= calendar[tool] || time - finish[tool] > idleLimit) break
      if (timeLimits.length > 0 && this.isLate(input.nextAt(time), time)) break
      // The books of the infeed: its slot, starved, then holding the wafer back for want of a place.
      const from = since[tool]
      const open = opens < from ? from : opens
      const came = ready < open ? open : ready
      books[tool * STATES + PRODUCTIVE] += open - from
      if (came > open) books[tool * STATES + STARVED] += came - open
      if (time > came) books[tool * STATES + BLOCKED] += time - came
      since[tool] = now = time
      left[tool] -= slot
      finish[tool] = free[tool] = time + slot
      tails[tool].add(this.takeFrom(input, time), time + transit)
      if (end === Infinity) end = time + transit
      sum += time - base
      taken++
    }
    if (taken === 0) return 0
    this.now = now
    this.insideAll += taken
    flow[0] += taken
    flow[1] += sum
    this.meter.counter[STARTS] += taken
    for (let t = 0; t < tools; t++) this.settleInfeed(t)
    return taken
  }

  /** A wafer to take in is recorded, and a place for it. */
  private hasNext(): boolean {
    const { input } = this
    if (input.waiting === 0 && input.stacked === 0 && !input.endless) return false
    return this.reserved(this.insideAll) < Infinity
  }

  /** Before this tick no stop comes by calendar, and the line is not closed. */
  private undisturbedBefore(stop: number): number {
    let before = stop
    for (let t = 0; t < this.tools; t++) {
      if (this.at[t] < before) before = this.at[t]
      if (this.clocks.whenEmpty[t] < before) before = this.clocks.whenEmpty[t]
    }
    return before
  }

  /** What a slot leaves behind of a tool, besides its books. */
  private settleInfeed(tool: number): void {
    this.work[tool] = this.plan.slot
    this.idleFrom[tool] = this.free[tool]
    this.state[tool] = PRODUCTIVE
    this.restOn(tool, this.now)
  }

  /** The first wafer on the belts reaches the end in its turn, if nothing happens to it; one belt alone may halt with it. */
  private endsNext(stop: number): boolean {
    const tool = this.nextToExit()
    const time = this.tails[tool].nextExit()
    if (!(time < this.undisturbedBefore(stop)) || this.outcome.quiet[tool] <= 1) return false
    const place = this.exit ? time : this.output.roomAt(time)
    const halts = this.plan.halts && this.tools === 1
    if (place !== time && !(halts && (place < Infinity || this.output.takesFrom > time))) return false
    this.now = time
    if (place === time) this.reachEndPlainly(tool, time)
    else this.reachEnd(tool, time)
    return true
  }

  /** The only belt has halted, and goes on when its first wafer finds a place. */
  private runsOn(stop: number): boolean {
    const time = this.output.roomAt(this.now)
    if (this.tools > 1 || !(time < stop && time <= this.at[0])) return false
    this.now = time
    this.putFromEnd(0, time)
    return true
  }
}
