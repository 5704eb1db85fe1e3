import { openStream, type Stream } from '../chance/streams.ts'
import type { BeltPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import * as Books from './meter.ts'
import * as Outcomes from './outcome.ts'
import * as Phases from './phases.ts'
import type { Seat } from './station.ts'
import { Tail } from './tail.ts'
import * as Fields from './tool-fields.ts'
import { ToolStation } from './tool-station.ts'

const { LOSE, LOSE_SOME, RESUME } = Plans
const { IDEAL_TIME, LOST, PRODUCTIVE } = Books
const { GONE } = Outcomes
const { DOWN, FULL, IDLE, PLAIN } = Phases
const { STILL } = Fields

/**
 * Belts from the infeed on: the wafers inside, which leave the other end a transit after
 * they entered and cannot wait, and what happens when there is no place for them.
 *
 * Run out: what reaches the end and finds no place waits there, and is scrapped after
 * the tolerance. Stop: the belt halts (phase FULL) while its first wafer finds no place.
 */
export abstract class BeltEnd extends ToolStation {
  readonly tails: Tail[]
  /** The belt stands still since this tick; Infinity: it runs. */
  protected readonly still: Float64Array
  /** Wafers at an end without a place (run out), first come first. */
  protected readonly ends = new Tail(8)
  insideAll = 0
  /** `stop`: the wafer at the end of a halted belt, -1: none. */
  readonly atEnd: Int32Array
  /** The wafer that waits at the infeed while a stop after idleness lasts, -1: none. */
  private readonly atInfeed: Int32Array
  private readonly chance: Stream

  constructor(
    override readonly plan: BeltPlan,
    seat: Seat,
  ) {
    super(plan, seat)
    const { key } = seat
    this.tails = Array.from({ length: plan.tools }, () => new Tail(plan.transit / plan.slot + 2))
    this.still = this.fields.of(STILL).fill(Infinity)
    this.atEnd = new Int32Array(plan.tools).fill(-1)
    this.atInfeed = new Int32Array(plan.tools).fill(-1)
    this.chance = openStream(key.seed, key.replication, plan.name, 'over-processed')
  }

  // ---- the end of the belt -----------------------------------------------------

  protected reachEnd(tool: number, time: number): void {
    const wafer = this.tails[tool].takeFirst()
    this.insideAll--
    this.meter.counter[IDEAL_TIME] += this.plan.slot
    if (--this.outcome.quiet[tool] <= 0 && this.outcome.settle(tool, wafer, time) === GONE) {
      this.treatment?.wear(tool, 1)
      return
    }
    this.treatment?.apply(tool, wafer, time, 0)
    if (this.exit) this.leave(wafer, time)
    else if (this.ends.count + this.full.count === 0 && this.output.roomAt(time) === time)
      this.handOver(wafer, time)
    else this.waitAtEnd(tool, wafer, time)
  }

  private waitAtEnd(tool: number, wafer: number, time: number): void {
    this.insideAll++
    if (this.plan.halts) {
      this.atEnd[tool] = wafer
      this.halt(tool, time)
    } else this.ends.add(wafer, time + this.plan.tolerance)
  }

  /** A place is free for a wafer that waits at an end; with `tool` given its belt runs again. */
  protected putFromEnd(tool: number, time: number): void {
    this.insideAll--
    if (tool < 0) {
      this.handOver(this.ends.takeFirst(), time)
      return
    }
    const stood = time - this.still[tool]
    this.treatment?.hold(this.atEnd[tool], stood)
    this.handOver(this.atEnd[tool], time)
    this.atEnd[tool] = -1
    this.full.takeFirst()
    this.runOn(tool, time)
    if (stood > this.plan.tolerance) this.overProcess(tool, time)
    this.enter(tool, PRODUCTIVE, time)
    if (this.atInfeed[tool] >= 0) this.goOnAs(PLAIN, tool, time)
    else this.endSlot(tool, time)
  }

  /** Nothing happens to the wafers on a halted belt when it runs again. */
  protected runsOn(tool: number, time: number): boolean {
    return !(time - this.still[tool] > this.plan.tolerance) && this.atInfeed[tool] < 0
  }

  /** The slot in which the belt came to stand goes on. */
  private endSlot(tool: number, time: number): void {
    const end = time + this.heldWork[tool]
    if (end > time) this.finish[tool] = end
    this.openInfeed(tool, end)
  }

  protected scrapAtEnd(time: number): void {
    this.lose(this.ends.takeFirst(), time)
    this.meter.counter[LOST]++
  }

  private lose(wafer: number, time: number): void {
    this.insideAll--
    this.removeWafer(wafer, time)
  }

  // ---- standing still ----------------------------------------------------------

  /** `stop`: the whole belt waits with its first wafer. A tool that is down halts when it comes up. */
  private halt(tool: number, time: number): void {
    this.still[tool] = Math.min(this.still[tool], time)
    if (this.phase[tool] === DOWN) {
      if (this.heldPhase[tool] === IDLE) this.heldWork[tool] = 0
      else if (this.heldPhase[tool] === PLAIN) this.countRest(tool, this.heldWork[tool])
      this.heldPhase[tool] = FULL
      return
    }
    this.heldWork[tool] = this.closeInfeed(tool, time)
    this.waitForRoom(tool, time)
  }

  /**
   * What is left of a slot in which the belt comes to stand counts as work at once, as that of a slot does in
   * which nothing was thought to happen: the belt goes on with it without an event. Not where a stop is due within it.
   */
  protected countRest(tool: number, left: number): void {
    if (left <= this.left[tool]) this.left[tool] -= left
  }

  private runOn(tool: number, time: number): void {
    const stood = time - this.still[tool]
    this.still[tool] = Infinity
    if (!(stood > 0)) return
    this.tails[tool].delay(stood)
    if (this.plan.treatment?.heldUp)
      for (const wafer of this.tails[tool].wafersInside()) this.treatment?.hold(wafer, stood)
  }

  /** Wafers inside a belt that stood still too long are spoiled, each with the same chance. */
  private overProcess(tool: number, time: number): void {
    const tail = this.tails[tool]
    let kept = 0
    for (let left = tail.count; left > 0; left--) {
      const exit = tail.nextExit()
      const wafer = tail.takeFirst()
      if (this.chance() >= this.plan.overProcessed) {
        tail.add(wafer, exit)
        kept++
      } else {
        this.lose(wafer, time)
        this.outcome.lostInside(tool, kept)
        this.meter.counter[LOST]++
      }
    }
  }

  // ---- stops -------------------------------------------------------------------

  /** The belt itself: it stands still (resume), loses wafers, or runs on with its infeed closed. */
  protected override suffer(tool: number, stop: number, time: number): void {
    if (stop >= this.plan.stops.length) return
    const { fate, lose } = this.plan.stops[stop]
    if (fate === RESUME) this.still[tool] = Math.min(this.still[tool], time)
    else if (fate === LOSE) this.loseInside(tool, stop, Infinity, time)
    else if (fate === LOSE_SOME) this.loseInside(tool, stop, this.outcome.drawLoss(tool, lose), time)
  }

  /** After too long without work: a wafer has been taken, and waits at the infeed until the stop is over. */
  protected holdAtInfeed(tool: number, wafer: number, time: number): void {
    const stop = this.clocks.idle.dueAfter(time - this.finish[tool])
    this.atInfeed[tool] = wafer
    this.heldPhase[tool] = PLAIN
    this.heldWork[tool] = this.plan.slot
    this.goDown(tool, stop, time, this.clocks.drawLasts(tool, stop, time))
  }

  protected override goOnAs(phase: number, tool: number, time: number): void {
    // What is left of a slot is the start of no wafer: a stop that waits for one does not strike then.
    if (phase === PLAIN && this.atInfeed[tool] < 0) {
      this.begin(tool, time, this.heldWork[tool], false)
      return
    }
    if (phase === PLAIN) {
      this.tails[tool].add(this.atInfeed[tool], time + this.plan.transit)
      this.atInfeed[tool] = -1
    }
    super.goOnAs(phase, tool, time)
  }

  protected override ahead(tool: number): number {
    return this.tails[tool].count
  }

  protected override recover(tool: number, time: number): void {
    if (this.atEnd[tool] < 0) this.runOn(tool, time)
  }

  /** The wafers that entered last are lost first. */
  protected loseInside(tool: number, stop: number, most: number, time: number): number {
    const tail = this.tails[tool]
    const count = Math.min(most, tail.count)
    for (let i = 0; i < count; i++) {
      this.lose(tail.takeLast(), time)
      this.outcome.lostInside(tool, tail.count)
    }
    this.bookLoss(stop, count)
    return this.heldPhase[tool]
  }

  /** With the wafer that makes a stop due that calls ahead. */
  protected override callsWhileDown(tool: number): number {
    const pieces = this.outcome.toNextWaiting(tool)
    return this.nextEnd(tool, pieces, Math.max(this.now, this.promises.take))
  }

  protected endsNotBefore(tool: number, pieces: number, from: number): number {
    return this.firstEnd(tool, from) + (pieces - 1) * this.plan.slot
  }

  /** Before this tick no wafer comes to the end of the belt. */
  private firstEnd(tool: number, from: number): number {
    return Math.max(Math.min(this.exitNotBefore(tool), from + this.plan.transit), this.now)
  }

  /**
   * Besides: what has waited for longer than the tolerance at an end; what is on a belt that
   * has stood so long when its first wafer finds its place.
   */
  protected override losesNotBefore(): number {
    const { tolerance } = this.plan
    let bound = super.losesNotBefore()
    if (tolerance === Infinity) return bound
    bound = Math.min(bound, this.ends.nextExit())
    if (this.holdsAtEnd()) bound = Math.min(bound, this.promises.put)
    for (let t = 0; t < this.tools; t++)
      bound = Math.min(bound, this.firstEnd(t, this.promises.take) + tolerance)
    return bound
  }

  /** `stop`: a wafer stands at the end of a belt. */
  protected holdsAtEnd(): boolean {
    for (let t = 0; t < this.tools; t++) if (this.atEnd[t] >= 0) return true
    return false
  }

  /** The belt whose first wafer reaches the end first, the lowest of equals. */
  protected nextToExit(): number {
    if (this.tools === 1) return 0
    let best = 0
    for (let t = 1; t < this.tools; t++) if (this.tails[t].nextExit() < this.tails[best].nextExit()) best = t
    return best
  }

  /** A belt that stands delays what is on it until it runs again. */
  private exitNotBefore(tool: number): number {
    const exit = this.tails[tool].nextExit()
    if (this.still[tool] === Infinity) return exit
    const runs = this.phase[tool] === DOWN ? this.upAt(tool) : this.promises.take
    return exit + Math.max(0, runs - this.still[tool])
  }

  inside(): number[] {
    return [...this.tails, this.ends]
      .flatMap(tail => tail.wafersInside())
      .concat([...this.atEnd, ...this.atInfeed].filter(wafer => wafer >= 0))
  }

  /** Stops taking wafers in. @returns what is left of the slot of the last one [ticks] */
  protected abstract closeInfeed(tool: number, time: number): number

  protected abstract openInfeed(tool: number, free: number): void
}
