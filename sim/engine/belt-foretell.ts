import { BeltInfeed } from './belt-infeed.ts'
import { PassingStation } from './passing-station.ts'
import * as Phases from './phases.ts'

const { FULL, IDLE } = Phases

/** Takes that are foretold at a time, at most. */
const AT_MOST = 48

/**
 * What the only belt of a station foretells of its takes. Behind a handful of places the tool
 * before it would have to wait, every few wafers, until the belt has taken them, though nothing
 * is plainer than when it will: each as soon as it is there, a slot after the one before. So the
 * belt says how long that holds (see `Foretold`), and who puts works the times out.
 */
export abstract class BeltForetell extends BeltInfeed {
  private foretells: boolean | undefined = undefined

  /** Before this tick no stop comes by calendar, the line is not closed, and what is known of people holds. */
  protected undisturbedBefore(stop: number): number {
    let before = Math.min(stop, this.calls.knownUntil())
    for (let t = 0; t < this.tools; t++) {
      const phase = this.phase[t]
      const next = phase === IDLE || phase === FULL ? this.rests[t] : this.at[t]
      if (next < before) before = next
    }
    return before
  }

  /** No belt stands, and no stop can strike any, before this tick (at most `stop`). */
  protected undisturbedUntil(stop: number): number {
    // A stop that waits for its moment strikes when the next wafer enters, at the latest.
    if (this.clocks.waiting > 0) return 0
    // What enters another belt now reaches its end a transit later, and at equal times the lower belt goes first.
    let end = this.tools > 1 ? Math.min(stop, this.now + this.plan.transit) : stop
    for (let t = 0; t < this.tools; t++) {
      if (this.still[t] < Infinity || this.striking[t] >= 0) return 0
      const idle = this.finish[t] + this.clocks.idle.longest
      end = Math.min(end, this.upAt(t), this.now + this.left[t], Math.max(this.now, idle))
    }
    return end
  }

  /** Says what holds of the takes after those that are recorded: all that wait have been taken, or why not is known. */
  protected foretell(): void {
    const { foretold } = this.input
    this.foretells ??= this.mayForetell()
    if (!this.foretells || foretold.recorded > 0) return
    foretold.most = 0
    const rests = this.phase[0] === IDLE && this.still[0] === Infinity && this.input.waiting === 0
    // Idleness counts from `finish`.
    if (!rests || this.striking[0] >= 0 || this.finish[0] !== this.free[0]) return
    const { slot } = this.plan
    const tail = this.tails[0]
    let most = Math.min(AT_MOST, Math.floor(this.left[0] / slot))
    let until = this.undisturbedBefore(Infinity)
    // None of them enters after a wafer at the end to which something happens.
    const plain = this.outcome.quiet[0] - 1 - tail.count
    if (plain >= 0) most = Math.min(most, plain)
    else until = Math.min(until, tail.exitOf(tail.count + plain))
    const { output } = this
    if (output.bounded) {
      most = Math.min(most, output.roomLeft - this.insideAll)
      foretold.places = output.room
      foretold.placesMask = output.roomMask
      foretold.place = output.roomHead + this.insideAll
    }
    foretold.most = Math.max(0, most)
    foretold.opens = this.free[0]
    foretold.until = until
  }

  /** Nothing but the clock decides when it takes the next wafer: not who else takes or puts, nor how long the wafer has waited before. */
  private mayForetell(): boolean {
    const { input, output, plan } = this
    const [supplier] = this.suppliers
    const buffers = input.bounded && !input.direct && !input.lifo && !input.outside
    if (!buffers || this.tools > 1 || this.exit || output.direct || plan.halts) return false
    if (plan.keepFree < Infinity || this.takenDepart || this.active) return false
    if (!(supplier instanceof PassingStation)) return false
    const { foretold } = input
    foretold.every = plan.slot
    foretold.idle = this.idleLimit
    for (const { stamp, atMost } of plan.timeLimits) {
      if (stamp !== supplier.stamp) return false
      foretold.waits = Math.min(foretold.waits, atMost - input.delay)
    }
    return true
  }
}
