import type { CallPlan } from '../plan/plan.ts'
import type { Desk } from './desk.ts'
import type { DeskMember } from './desk-calls.ts'

/**
 * The calls of a station for people: which of its tools wait for them, and what the
 * station may promise meanwhile. A tool that waits comes up at the grant, plus the time
 * to reach it, plus the length of the stop, all known once the grant is.
 */
export class Calls {
  /** Tools that have called and are not yet granted people. */
  count = 0
  /** Calls that are not granted yet for tools that work on until people are there. */
  ahead = 0
  /** Tick at which people reach the tool; Infinity: not granted. */
  readonly reached: Float64Array
  /** Length of the stop that the tool waits with [ticks]. */
  readonly lasts: Float64Array
  private readonly waits: Uint8Array
  /** The shortest of the stops that tools wait with. */
  private shortest = Infinity
  desk: Desk | undefined

  constructor(
    private readonly member: DeskMember,
    private readonly tools: number,
  ) {
    this.reached = new Float64Array(tools).fill(Infinity)
    this.lasts = new Float64Array(tools)
    this.waits = new Uint8Array(tools)
  }

  call(tool: number, call: CallPlan, time: number, lasts: number): void {
    this.reached[tool] = Infinity
    this.lasts[tool] = lasts
    this.waits[tool] = 1
    this.count++
    this.findShortest()
    this.desk?.call(this.member, tool, call, time, lasts)
  }

  /** The tool has called before, while it worked on, and stands now. */
  stand(tool: number, lasts: number): void {
    this.reached[tool] = Infinity
    this.lasts[tool] = lasts
    this.waits[tool] = 1
    this.ahead--
    this.count++
    this.findShortest()
  }

  /** As `call`, for a tool that works on. @param handle the desk's name for it @param stands when it may work on no longer */
  callAhead(handle: number, tool: number, call: CallPlan, time: number, lasts: number, stands: number): void {
    this.ahead++
    this.desk?.call(this.member, handle, call, time, lasts, tool, stands)
  }

  /** Nobody is needed any more, from this tick on. */
  dropAhead(handle: number, time: number): void {
    this.ahead--
    this.desk?.drop(this.member, handle, time)
  }

  /** @returns tick at which the tool comes up */
  granted(tool: number, reached: number): number {
    this.waits[tool] = 0
    this.count--
    this.findShortest()
    this.reached[tool] = reached
    return reached + this.lasts[tool]
  }

  waiting(tool: number): boolean {
    return this.waits[tool] === 1
  }

  /** No grant before this tick; Infinity when nobody is called for. */
  noGrantBefore(): number {
    return this.count + this.ahead > 0 ? (this.desk as Desk).grantsFrom(this.member) : Infinity
  }

  /** Before this tick nobody strikes a tool that works on, of those that are not granted: who is called so comes a tick after the grant at the earliest. */
  noneThereBefore(): number {
    return this.ahead > 0 ? (this.desk as Desk).grantsFrom(this.member) + 1 : Infinity
  }

  /**
   * Up to this tick the station knows its tools: up to the next grant, and on until a tool
   * that waits could come up, but for the end of a block, when it books how long they wait.
   * A tool that works on may be struck right after the grant. Infinity when nobody is called
   * for. Times are whole or half ticks.
   */
  knownUntil(): number {
    if (this.ahead > 0) return this.noGrantBefore()
    if (this.count === 0) return Infinity
    const grant = (this.desk as Desk).grantsFrom(this.member)
    return Math.max(grant, Math.min(grant + this.shortest, this.member.meter.nextEdge) - 0.5)
  }

  /** No tool that waits comes up before this tick. */
  earliestUp(): number {
    return this.count > 0 ? (this.desk as Desk).grantsFrom(this.member) + this.shortest : Infinity
  }

  private findShortest(): void {
    this.shortest = Infinity
    for (let t = 0; t < this.tools; t++)
      if (this.waits[t] === 1) this.shortest = Math.min(this.shortest, this.lasts[t])
  }
}
