import type { SinglePlan } from '../plan/plan.ts'
import type { HaltHost } from './belt-halts.ts'
import type { Channel } from './channel.ts'
import { handStraight } from './hand-straight.ts'
import { handThrough } from './hand-through.ts'
import * as Books from './meter.ts'
import { oneByOne } from './one-by-one.ts'
import * as Phases from './phases.ts'
import { rush } from './rush.ts'
import { SingleWork } from './single-work.ts'
import { type SoloHost, solo } from './solo.ts'
import { type Seat, Station } from './station.ts'

const { BLOCKED, PRODUCTIVE } = Books
const { DOWN, FULL, HELD, IDLE, PLAIN, WATCHED } = Phases

/** The three acts, in their order at equal times. */
const PUT = 0
const EVENT = 1
const TAKE = 2

/** Loops for plain work: of one tool, of several between buffers (first in, first out). */
const SOLO = 0
const RUSH = 1
/** One act after another. */
export const STEP = 2

/**
 * Single-wafer tools in parallel behind one input, before one output (or the end of the
 * line). Acts at equal times: a full tool hands over; tool events, lower tool first; an
 * idle tool takes, the one that has waited longest first.
 */
export class SingleStation extends SingleWork implements SoloHost {
  /** The general loop, one act after another. */
  declare private goOn: Station['advance']
  static {
    SingleStation.prototype.goOn = Station.busyLoop
  }

  /** The next act, left by `find`. */
  private act = EVENT
  private tool = 0
  private needsRoom = false
  private needsWafer = false
  /** The loop for what is plain. */
  private readonly pace: number
  /** The only tool does wafers in rounds (`oneByOne`). */
  private readonly rounds: boolean
  /** The only tool asks for its wafers, and does them in rounds. */
  private readonly straight: boolean

  constructor(plan: SinglePlan, seat: Seat) {
    super(plan, seat)
    const buffered = (this.exit || !this.output.direct) && !this.input.direct && !this.input.lifo
    const sorts = this.boxes && plan.outcome.test
    const rushes = buffered && !plan.treatment && !sorts && plan.timeLimits.length === 0
    const plain = this.fixed[0] > 0 && !this.treatment?.harmsHeld
    this.straight =
      plain && !this.exit && !this.output.direct && this.input.direct && plan.timeLimits.length === 0
    this.rounds = plain && !this.exit && !this.output.direct && !this.input.direct
    this.pace = plan.tools === 1 && !this.input.endless && !this.boxes ? SOLO : rushes ? RUSH : STEP
  }

  /** Finds the next act by what is recorded: leaves act and tool, and what would have to be known besides. @returns its tick */
  protected find(): number {
    const { at, input } = this
    let tool = 0
    let time = at[0]
    for (let t = 1; t < this.tools; t++)
      if (at[t] < time) {
        time = at[t]
        tool = t
      }
    this.act = EVENT
    this.needsRoom = false
    this.needsWafer = false
    if (this.full.count > 0) {
      const put = this.output.roomAt(this.now)
      if (put === Infinity) this.needsRoom = true
      else if (put <= time) {
        time = put
        tool = this.full.first()
        this.act = PUT
      }
    }
    if (this.idle.count > 0) {
      if (input.waiting > 0 || input.stacked > 0 || input.endless) {
        const take = this.readyAt()
        if (take < time) {
          time = take
          tool = this.idle.first()
          this.act = TAKE
        }
      } else this.needsWafer = true
    }
    this.tool = tool
    return time
  }

  /** When an idle tool can take the next wafer that is recorded. */
  private readyAt(): number {
    const { input, now } = this
    if (input.stacked > 0 || input.endless) return now
    const ready = input.ready[input.head]
    return ready > now ? ready : now
  }

  advance(most: number, limit: number, knowsAll: boolean): number {
    if (knowsAll || this.pace === STEP || this.active) return this.goOn(most, limit, knowsAll)
    let acts = 0
    for (;;) {
      acts += this.hurry(limit)
      const one = this.goOn(1, limit, false)
      acts += one
      if (one === 0 || acts >= most) return acts
    }
  }

  override hurry(limit: number): number {
    if (this.pace === STEP || this.active) return 0
    if (this.pace === SOLO) return this.solo(limit)
    let acts = this.rush(limit)
    while (!this.exit && this.output.bounded && this.output.roomLeft === 0 && this.press())
      acts += this.rush(limit)
    return acts
  }

  override passStraight(belt: HaltHost, beltInput: Channel, before: number, limit: number): number {
    const { input, output } = this
    if (!this.straight || this.active || this.takenDepart) return 0
    if (this.phase[0] !== IDLE || input.waiting > 0) this.hurry(limit)
    let acts = 0
    for (;;) {
      const asks = this.phase[0] === IDLE && input.roomLeft === 1 && input.waiting === 0
      if (!asks || this.striking[0] >= 0 || this.clocks.waiting > 0) return acts
      const stop = Math.min(this.plainBefore(limit), this.clocks.whenEmpty[0])
      acts += handStraight(belt, this, beltInput, input, output, before, stop)
      if (!(output.bounded && output.roomLeft === 0 && this.press())) return acts
    }
  }

  protected perform(time: number): void {
    const { act, tool } = this
    if (act === TAKE) {
      this.idle.takeFirst()
      this.enter(tool, PRODUCTIVE, time)
      this.start(tool, time)
    } else if (act === PUT) {
      this.full.takeFirst()
      this.enter(tool, BLOCKED, time)
      const ended = this.finish[tool]
      this.treatment?.apply(tool, this.holds[tool], ended, time - ended)
      this.handOver(this.holds[tool], time)
      this.goOnFree(tool, time)
    } else if (this.phase[tool] === PLAIN && this.quiet[tool] > 1) {
      this.quiet[tool]--
      this.finishWork(tool, time)
    } else this.event(tool, time)
  }

  private rush(limit: number): number {
    if (this.clocks.waiting > 0 || this.takenDepart) return 0
    let stop = this.plainBefore(limit)
    for (let t = 0; t < this.tools; t++) stop = Math.min(stop, this.clocks.whenEmpty[t])
    return rush(this, this.input, this.exit ? this.input : this.output, stop)
  }

  /** For the loop of one tool. */
  judge(wafer: number, time: number): number {
    return this.outcome.settle(0, wafer, time)
  }

  get stopsWaiting(): number {
    return this.clocks.waiting
  }

  /** For the loop of one tool. */
  restsUntil(time: number): number {
    return this.clocks.restsUntil(0, time)
  }

  /** Before this tick no block ends, and what people and boxes bring is known. */
  private plainBefore(limit: number): number {
    return Math.min(limit, this.meter.nextEdge, this.calls.knownUntil(), this.boxesKnownBefore())
  }

  /** The only tool waits for a wafer, or for a place, and none is recorded. */
  private waitsStill(): boolean {
    const { input } = this
    if (this.idle.count > 0) return input.waiting === 0 && input.stacked === 0
    return this.full.count > 0 && !this.exit && this.output.bounded && this.output.roomLeft === 0
  }

  /** Plain work of the only tool. @returns acts done */
  private solo(limit: number): number {
    if (this.takenDepart || this.waitsStill()) return 0
    const { input, output } = this
    const stop = Math.min(this.plainBefore(limit), this.clocks.whenEmpty[0])
    if (input.direct && input.waiting > 0 && handThrough(this, input, output, stop)) return 2
    return this.rounds ? this.doRounds(stop) : solo(this, input, output, stop, false)
  }

  /** Wafers in rounds; what is not part of a round is left to the loop for acts, and to the general one. @returns acts done */
  private doRounds(stop: number): number {
    const { input, output, phase } = this
    let acts = 0
    for (;;) {
      const isFull = output.bounded && output.roomLeft === 0
      if (phase[0] !== IDLE && isFull && !this.press()) return acts
      // With the last wafer people may have been called: what they do is known up to a tick only.
      if (this.striking[0] >= 0 || this.clocks.waiting > 0)
        return acts + solo(this, input, output, Math.min(stop, this.calls.knownUntil()), false)
      if (phase[0] === FULL) acts += solo(this, input, output, stop, true)
      const rounds = oneByOne(this, input, output, stop)
      acts += rounds
      const needsRoom = output.bounded && output.roomLeft === 0
      const goesOn = phase[0] !== IDLE ? rounds > 0 : needsRoom && this.press()
      if (!goesOn) return acts
    }
  }

  /** Whether everything that the act found at `time` depends on is known. */
  protected knows(time: number): boolean {
    if (this.calls.knownUntil() < time || !(this.boxesKnownBefore() > time)) return false
    const { input } = this
    const phase = this.phase[this.tool]
    const finishing = this.act === EVENT && (phase <= WATCHED || phase === HELD) && !this.exit
    if (this.needsRoom && !(this.output.takesFrom > time)) return false
    if (finishing && this.full.count === 0 && !this.roomKnown(time)) return false
    if (!this.needsWafer && !(input.lifo && this.idle.count > 0)) return true
    return input.entersFrom() >= time
  }

  /** Whether it is known if a wafer finished at `time` finds a place then. */
  private roomKnown(time: number): boolean {
    return this.output.roomAt(time) < Infinity || this.output.takesFrom > time
  }

  /** The promises, with the next act by what is recorded at `next`. */
  protected promise(next: number): void {
    let take = Math.min(next, this.calls.earliestUp(), this.boxesKnownBefore())
    let put = take
    if (this.needsRoom) take = put = Math.min(take, this.output.takesFrom)
    if (this.needsWafer) {
      const arrival = this.input.arrivesFrom()
      if (arrival < take) take = arrival
      if (arrival + this.shortest < put) put = arrival + this.shortest
    }
    this.promised(take, put)
    const finishes = !this.exit && this.output.roomAt(next) === Infinity
    this.promises.hear(
      this.needsWafer || (this.input.lifo && this.idle.count > 0),
      this.needsRoom || finishes,
    )
    if (this.sendsBack) this.promiseBack(take, take)
  }

  protected endsNotBefore(tool: number, pieces: number, from: number): number {
    const phase = this.phase[tool]
    if (phase === PLAIN || phase === WATCHED) return this.finish[tool] + (pieces - 1) * this.shortest
    if (phase === DOWN) return this.upAt(tool) + (pieces - 1) * this.shortest
    return Math.max(from, this.now) + pieces * this.shortest
  }

  /** Besides what calls by itself: the cells that make a box full. */
  protected override nextPieceCall(tool: number, from: number): number {
    // So many over all tools: one of the tools must have done its part of them.
    const cells = this.boxes ? Math.ceil(this.boxes.toNextCall() / this.tools) : Infinity
    return this.nextEnd(tool, Math.min(this.outcome.toNextCall(tool), cells), from)
  }

  waitsFor(): string {
    if (this.full.count > 0) return 'a free place behind it'
    if (this.phase.includes(HELD)) return 'a full box to be swapped'
    if (this.idle.count > 0) return 'wafers'
    return 'its tools'
  }
}
