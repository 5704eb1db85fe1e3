import { runAlone } from './belt-alone.ts'
import { BeltForetell } from './belt-foretell.ts'
import { type HaltHost, haltAndGo } from './belt-halts.ts'
import { handOn, takeIn } from './belt-runs.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED, STATES } = Books
const { IDLE } = Phases

/** The acts of the loop, in their order at equal times. */
const PUT = 0
const EXIT = 1
const TAKE = 2

/**
 * The fast loop of belts behind a buffer: wafers enter, reach the end, halt their belt and
 * let it run again, with the effects of the general loop, as long as nothing but plain work
 * happens and everything that matters is recorded. At anything else the general loop takes
 * over. The strict drive never comes here, so comparing the drives compares the loops.
 */
export abstract class BeltFlow extends BeltForetell implements HaltHost {
  /** Per belt, within a loop: since when its infeed is open; Infinity: it is closed. */
  private readonly opens = new Float64Array(this.tools)
  /** The only belt, to whose wafers nothing happens when it halts. */
  private readonly plainHalts =
    this.tools === 1 && !this.plan.treatment?.heldUp && this.clocks.idle.longest === Infinity
  /** The only belt, before a buffer in which places are reserved for all that are inside or for none. */
  private readonly alone =
    this.tools === 1 &&
    !this.exit &&
    !this.output.direct &&
    (this.plan.halts || this.plan.keepFree === Infinity)
  readonly next = new Float64Array(this.tools)
  readonly onBelt = new Float64Array(this.tools)
  readonly heldBack = new Float64Array(this.tools)

  /**
   * Wafers reach the end, and wafers enter, by turns. What reaches the end does not ask who
   * enters after it. What enters asks of those before it only whether they halt their belt,
   * or are lost: so it enters before the first that does not leave plainly.
   *
   * @returns acts done before `limit`
   */
  protected flow(limit: number): number {
    const stop = Math.min(limit, this.meter.nextEdge)
    if (this.active || this.takenDepart || this.clocks.waiting > 0) return this.runOut(stop)
    if (this.ends.count > 0) return 0
    const direct = !this.exit && this.output.direct
    // The only belt stands, and its first wafer finds no place.
    if (this.tools === 1 && this.full.count > 0 && this.output.roomLeft === 0 && !(direct && this.press()))
      return 0
    let acts = 0
    if (this.full.count === 0 && !direct) {
      do acts += this.alone ? this.run(stop) : this.byTurns(stop)
      while (this.lacksRoom() && this.press())
    }
    if (!this.plan.halts || !this.mayHalt()) return acts
    if (direct && this.plainHalts) acts += this.straightOn(stop, limit)
    acts += this.plainHalts
      ? haltAndGo(this, this.input, this.output, this.undisturbedBefore(stop))
      : this.inOrder(stop)
    return direct || (this.tools === 1 && this.full.count > 0) ? acts : acts + this.runOut(stop)
  }

  /** The only belt hands wafers straight to the only tool behind it. @returns acts done */
  private straightOn(stop: number, limit: number): number {
    const { behind, input } = this
    if (!behind || this.treatment || input.endless || input.outside || this.plan.timeLimits.length > 1)
      return 0
    let acts = 0
    do acts += behind.passStraight(this, input, this.undisturbedBefore(stop), limit)
    while (this.refill())
    return acts
  }

  /** Wafers reach the end and enter. @returns acts done */
  private byTurns(stop: number): number {
    let acts = this.runOut(stop)
    for (let entered = this.takeIn(stop); entered > 0; ) {
      const out = this.runOut(stop)
      acts += entered + out
      entered = out > 0 || this.refill() ? this.takeIn(stop) : 0
    }
    return acts
  }

  /** The same of the only belt. */
  private run(stop: number): number {
    if (this.still[0] < Infinity) return 0
    const before = this.undisturbedBefore(stop)
    const acts = runAlone(this, this.input, this.output, stop, this.upAt(0), before)
    this.foretell()
    return acts
  }

  /** No place is recorded for a wafer that enters, or reaches the end. */
  private lacksRoom(): boolean {
    if (this.exit || !this.output.bounded) return false
    return this.output.roomLeft <= (this.reserves ? this.insideAll : 0)
  }

  /** A belt halts, or its first wafer may find no place. */
  private mayHalt(): boolean {
    if (this.exit) return false
    if (this.full.count > 0 || this.output.direct) return true
    const exit = this.tails[this.nextToExit()].nextExit()
    return this.output.roomAt(exit) !== exit
  }

  /** Wafers enter, before any reaches an end and before a stop may come by calendar. */
  private takeIn(stop: number): number {
    const { waiting, stacked, endless } = this.input
    if (waiting === 0 && stacked === 0 && !endless) return 0
    let before = this.undisturbedBefore(stop)
    for (let t = 0; t < this.tools; t++) {
      if (this.still[t] === Infinity) before = Math.min(before, this.tails[t].nextExit())
      if (this.phase[t] === IDLE) before = Math.min(before, this.calendar[t] - this.plan.slot)
    }
    return takeIn(this, this.input, this.output, before)
  }

  /**
   * One act after another in their order, of belts that halt and run again: nothing is
   * reserved behind them, and they do not end the line. It is long because it holds what it
   * touches in locals.
   *
   * @param stop acts up to, not including, this tick (no block ends before it)
   * @returns acts done
   */
  private inOrder(stop: number): number {
    const { input, output, free, since, left, finish, calendar, tails, tools, next: exits, opens } = this
    const { still, phase, full, striking } = this
    const { quiet } = this.outcome
    const { slot, transit, timeLimits } = this.plan
    const { flow, base, state: books, counter } = this.meter
    const { longest: idleLimit } = this.clocks.idle
    const before = this.undisturbedBefore(stop)
    let acts = 0
    let taken = 0
    let takenSum = 0
    for (let t = 0; t < tools; t++) {
      exits[t] = still[t] === Infinity ? tails[t].nextExit() : Infinity
      opens[t] = phase[t] === IDLE ? free[t] : Infinity
    }
    for (;;) {
      const { now } = this
      let time = Infinity
      let act = PUT
      let tool = 0
      // Up to, not including, this tick it is known whether a place becomes free.
      let placesKnown = Infinity
      if (full.count > 0) {
        time = output.roomAt(now)
        tool = full.first()
        if (time === Infinity) placesKnown = output.takesFrom
      }
      let first = 0
      let open = 0
      for (let t = 1; t < tools; t++) {
        if (exits[t] < exits[first]) first = t
        if (opens[t] < opens[open]) open = t
      }
      if (exits[first] < time) {
        time = exits[first]
        act = EXIT
        tool = first
      }
      // Up to this tick it is known that no wafer enters that is not recorded.
      let entriesKnown = Infinity
      let ready = 0
      if (opens[open] < Infinity) {
        const recorded = input.stacked > 0 || input.endless
        if (!recorded && input.waiting === 0) entriesKnown = input.arrivesFrom()
        else {
          ready = recorded ? opens[open] : input.ready[input.head]
          const take = Math.max(now, opens[open], ready)
          if (take < time) {
            time = take
            act = TAKE
            tool = open
          }
        }
      }
      if (!(time < before && time < placesKnown && time <= entriesKnown)) break
      if (act === TAKE) {
        if (striking[tool] >= 0 || slot > left[tool] || time + slot >= calendar[tool]) break
        if (time - finish[tool] > idleLimit) break
        if (input.lifo && time > input.arrivesFrom()) break
        if (timeLimits.length > 0 && this.isLate(input.nextAt(time), time)) break
        // The books of the infeed: its slot, starved, then holding the wafer back.
        const from = since[tool]
        const idle = free[tool] < from ? from : free[tool]
        const came = ready < idle ? idle : ready
        books[tool * STATES + PRODUCTIVE] += idle - from
        if (came > idle) books[tool * STATES + STARVED] += came - idle
        if (time > came) books[tool * STATES + BLOCKED] += time - came
        since[tool] = time
        left[tool] -= slot
        opens[tool] = finish[tool] = free[tool] = time + slot
        if (exits[tool] === Infinity) exits[tool] = time + transit
        tails[tool].add(this.takeFrom(input, time), time + transit)
        this.insideAll++
        takenSum += time - base
        taken++
      } else if (act === EXIT) {
        if (quiet[tool] <= 1) break
        const queues = full.count > 0
        const place = queues ? Infinity : output.roomAt(time)
        if (place === time) {
          this.reachEndPlainly(tool, time)
          exits[tool] = tails[tool].nextExit()
        } else {
          const known = queues || place < Infinity || output.takesFrom > time
          if (phase[tool] !== IDLE || !known) break
          this.now = time
          this.reachEnd(tool, time)
          exits[tool] = opens[tool] = Infinity
        }
      } else {
        if (!this.runsOn(tool, time)) break
        this.now = time
        this.putFromEnd(tool, time)
        exits[tool] = tails[tool].nextExit()
        opens[tool] = free[tool]
      }
      this.now = time
      acts++
    }
    if (taken > 0) {
      flow[0] += taken
      flow[1] += takenSum
      counter[STARTS] += taken
      for (let t = 0; t < tools; t++) if (phase[t] === IDLE) this.settleInfeed(t)
    }
    return acts
  }

  /** What a slot leaves behind of a tool, besides its books. */
  private settleInfeed(tool: number): void {
    this.work[tool] = this.plan.slot
    this.idleFrom[tool] = this.free[tool]
    this.state[tool] = PRODUCTIVE
    this.restOn(tool, this.now)
  }

  /**
   * Lets wafers reach the end ahead of what the infeed still waits to know: whatever may
   * enter meanwhile comes after them. Only those to which nothing happens, which have
   * their place, and which leave before any stop can strike. `now` stays with the infeed.
   *
   * @param stop up to, not including, this tick (no block ends before it)
   * @returns wafers that have left
   */
  protected runOut(stop: number): number {
    // With `keepFree` the number inside decides who may enter, so it must not run ahead.
    // So it is before a direct hand-over, where requests that are void go when a wafer is put.
    const { output, exit: leaves } = this
    const direct = !leaves && output.direct
    // Nor may one that halts, and asks for wafers directly: what it has asked for is void when it comes to a stand.
    const counts = this.plan.halts ? this.input.direct : this.plan.keepFree < Infinity || direct
    if (counts || this.ends.count > 0 || !(this.tails[this.nextToExit()].nextExit() < stop)) return 0
    const end = this.undisturbedUntil(stop)
    return leaves || direct ? this.runOutSingly(end) : handOn(this, output, end)
  }

  /** The same where wafers leave the line, or are handed over directly. */
  private runOutSingly(end: number): number {
    const { quiet } = this.outcome
    for (let out = 0; ; out++) {
      const tool = this.nextToExit()
      const exit = this.tails[tool].nextExit()
      if (!(exit < end) || quiet[tool] <= 1) return out
      if (!this.exit && this.output.roomAt(exit) !== exit) return out
      this.reachEndPlainly(tool, exit)
    }
  }

  /** The first wafer reaches the end, finds its place, and nothing happens to it. */
  private reachEndPlainly(tool: number, time: number): void {
    this.outcome.quiet[tool]--
    this.insideAll--
    this.meter.counter[IDEAL_TIME] += this.plan.slot
    const wafer = this.tails[tool].takeFirst()
    this.treatment?.apply(tool, wafer, time, 0)
    if (this.exit) this.leave(wafer, time)
    else this.handOver(wafer, time)
  }
}
