import type { ToolPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import * as Phases from './phases.ts'
import type { Seat } from './station.ts'
import { ToolBooks } from './tool-books.ts'

const { LOSE, LOSE_SOME, PIECES } = Plans
const { DONE, DOWN, HELD, LOADING, PLAIN, UNLOADING, WATCHED } = Phases

/**
 * What a station may promise of its tools, from the counts of the outcome and the clocks of
 * the stops: before which tick none loses a wafer, sends one back, or calls for people.
 */
export abstract class ToolPromises extends ToolBooks {
  /** Stops take wafers from within the tools, or let set-up wafers follow. */
  private readonly stopsLose: boolean
  /** Stops that count pieces do, of those inside, or renew others: what these take then is not known before. */
  private readonly piecesLose: boolean

  constructor(plan: ToolPlan, seat: Seat) {
    super(plan, seat)
    const losing = plan.stops.filter(({ fate }) => fate === LOSE || fate === LOSE_SOME)
    this.stopsLose = losing.length > 0 || plan.stops.some(({ setUp }) => setUp[1] > 0)
    this.piecesLose =
      losing.some(({ clock }) => clock === PIECES) ||
      plan.stops.some(({ clock, renews }) => clock === PIECES && renews.length > 0)
  }

  protected promised(take: number, put: number): void {
    this.promises.give(take, put)
    this.promises.want(this.wantsNews())
  }

  /** Somebody is called for. */
  protected wantsNews(): boolean {
    return this.calls.count + this.calls.ahead > 0
  }

  granted(tool: number, reached: number): void {
    this.at[tool] = this.calls.granted(tool, reached)
  }

  /** Before this tick the tool's next event does not come, whenever people reach it. */
  protected upAt(tool: number): number {
    return this.calls.waiting(tool) ? this.calls.earliestUp() : this.at[tool]
  }

  /** By a stop, or at the end of work; what leaves the line as good goes when it is put. */
  protected losesNotBefore(): number {
    let bound = this.exit ? this.promises.put : Infinity
    for (let t = 0; t < this.tools; t++)
      bound = Math.min(
        bound,
        this.lossByStopNotBefore(t),
        this.nextEnd(t, this.outcome.toNextLoss(t), this.promises.take),
      )
    return bound
  }

  /** Before this tick no stop takes wafers from within the tool, or is followed by set-up wafers that the outcome does not know of: no stop at all must have struck before. */
  private lossByStopNotBefore(tool: number): number {
    if (!this.stopsLose) return Infinity
    const soon = this.striking[tool] >= 0 || this.clocks.waiting > 0
    if (this.phase[tool] === WATCHED) return this.at[tool]
    const idle = this.finish[tool] + this.clocks.idle.setUp
    if (this.phase[tool] !== PLAIN) {
      const next = this.promises.take + (soon || this.piecesLose ? 0 : this.left[tool])
      return Math.min(next, this.upAt(tool), Math.max(idle, this.promises.take))
    }
    if (soon || this.piecesLose) return this.at[tool]
    return Math.min(this.at[tool] + this.left[tool], this.calendar[tool], idle)
  }

  /** Before this tick no wafer ends its work that goes back, taking none before `take`. */
  protected nextBack(take: number): number {
    let back = Infinity
    for (let t = 0; t < this.tools; t++)
      back = Math.min(back, this.nextEnd(t, this.outcome.toNextRework(t), take))
    return back
  }

  /** As `endsNotBefore`; Infinity for a wafer that never comes. */
  protected nextEnd(tool: number, pieces: number, from: number): number {
    return pieces === Infinity ? Infinity : this.endsNotBefore(tool, pieces, from)
  }

  /** Before this tick the tool does not end its work on the n-th wafer from now, taking none before `from`. */
  protected abstract endsNotBefore(tool: number, pieces: number, from: number): number

  // ---- calls for people --------------------------------------------------------

  /**
   * Before this tick no stop or breakage of this station calls for people, beyond the
   * calls that are made. From the clocks of the stops: the nearest must run down first.
   */
  callsNotBefore(): number {
    let bound = Infinity
    for (let t = 0; t < this.tools; t++) {
      if (!this.calls.waiting(t)) bound = Math.min(bound, this.nextStopFrom(t))
      bound = Math.min(bound, this.callsWhileDown(t))
    }
    return bound
  }

  /** Before this tick a tool that is down makes no call: only on a belt wafers go on to their end then. */
  protected callsWhileDown(_tool: number): number {
    return Infinity
  }

  private nextStopFrom(tool: number): number {
    const from = Math.max(this.now, this.promises.take)
    const phase = this.phase[tool]
    if (phase === DOWN || phase === LOADING || phase === UNLOADING || phase === HELD) return this.at[tool]
    const works = phase === PLAIN || phase === WATCHED
    // Those for whom people have been called make no call more.
    const waiting = this.clocks.waiting - this.clocks.called
    const soon = this.striking[tool] >= 0 || waiting > 0 || phase === DONE
    if (soon) return works ? this.at[tool] : from
    const runs = phase === WATCHED ? this.at[tool] : (works ? this.finish[tool] : from) + this.left[tool]
    const afterIdle = Math.max(from, this.finish[tool] + this.clocks.idle.calls)
    return Math.min(runs, this.rests[tool], this.nextPieceCall(tool, from), afterIdle)
  }

  /** Before this tick no wafer (or load) ends at which the tool calls for people, if nothing happens before `from`. */
  protected nextPieceCall(tool: number, from: number): number {
    return this.nextEnd(tool, this.outcome.toNextCall(tool), from)
  }
}
