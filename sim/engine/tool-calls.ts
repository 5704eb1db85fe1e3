import type { CallPlan } from '../plan/plan.ts'
import { CallsAhead } from './calls-ahead.ts'
import * as Phases from './phases.ts'
import { ToolPromises } from './tool-promises.ts'

const { FULL, HELD, IDLE, PLAIN, WATCHED } = Phases

/**
 * Stops that wait until people are there: who is needed is called when the stop is due, and
 * the tool works on. It is struck when they have come, which is known since the grant, or
 * goes down without them when it may wait no longer.
 */
export abstract class ToolCalls extends ToolPromises {
  protected readonly callsAhead = new CallsAhead(this.plan.stops.length, this.tools)

  /** A stop that is due may wait for a good moment: then the tool goes on. @returns true when it does */
  protected defers(tool: number, stop: number, time: number): boolean {
    const { clocks } = this
    if (!clocks.defers(tool, stop, time)) return false
    const call = this.callOf(stop)
    if (call && clocks.callsAhead(stop)) {
      const lasts = clocks.drawLasts(tool, stop, time)
      this.callsAhead.called(tool, stop, lasts)
      const handle = this.callsAhead.handleOf(tool, stop)
      this.calls.callAhead(handle, tool, call, time, lasts, clocks.dueOf(tool, stop))
      this.limitRequests()
    }
    return true
  }

  strikeNext(tool: number, stop: number, time: number): boolean {
    return this.defers(tool, stop, time) || this.clocks.strikeNext(tool, stop)
  }

  /** How long the stop that strikes at `time` lasts [ticks]: who has been called knows that already. */
  protected lastsOf(tool: number, stop: number, time: number): number {
    return this.isCalled(tool, stop)
      ? this.callsAhead.lastsOf(tool, stop)
      : this.clocks.drawLasts(tool, stop, time)
  }

  /** When the people are there whom the stop needs, if they have been called before; Infinity: that is not known. */
  protected thereFrom(tool: number, stop: number): number {
    return this.isCalled(tool, stop) ? this.callsAhead.thereFrom(tool, stop) : Infinity
  }

  /** Not for what is no stop of the plan, such as the clearing of shards. */
  private isCalled(tool: number, stop: number): boolean {
    return stop < this.plan.stops.length && this.callsAhead.isCalled(tool, stop)
  }

  /** The tool stands and waits for people. */
  protected awaitPeople(tool: number, stop: number, call: CallPlan, time: number, lasts: number): void {
    const there = this.thereFrom(tool, stop)
    if (there < Infinity) this.calls.reached[tool] = there
    else if (this.isCalled(tool, stop)) {
      this.callsAhead.stands(tool, stop)
      this.calls.stand(tool, lasts)
    } else this.calls.call(tool, call, time, lasts)
  }

  /** The stop has been done, if only along with another: nobody is needed any more. Who is on the way comes in vain. */
  protected noLongerCalled(tool: number, stop: number): void {
    if (this.callsAhead.over(tool, stop)) this.calls.dropAhead(this.callsAhead.handleOf(tool, stop), this.now)
  }

  override granted(handle: number, reached: number): void {
    if (handle >= 0) {
      super.granted(handle, reached)
      return
    }
    const tool = this.callsAhead.toolOf(handle)
    const stop = this.callsAhead.stopOf(handle)
    this.callsAhead.granted(tool, stop, reached)
    if (this.calls.waiting(tool) && this.current[tool] === stop) {
      this.at[tool] = this.calls.granted(tool, reached)
      return
    }
    this.calls.ahead--
    this.clocks.comesAt(tool, stop, reached)
    this.reckonWithStop(tool)
  }

  /** A stop has turned out to come sooner by the calendar than the tool reckoned with. */
  protected reckonWithStop(tool: number): void {
    const phase = this.phase[tool]
    if (phase === PLAIN) this.lookAtWork(tool)
    else if (phase === WATCHED) this.comeBy(tool, this.calendar[tool])
    else if (phase === FULL || phase === HELD) this.comeBy(tool, this.clocks.stands[tool])
    else if (phase === IDLE) {
      this.comeBy(tool, this.rests[tool])
      if (this.input.direct) this.input.shortenRequest(tool, this.at[tool])
    }
  }

  /** Work that was thought to end as planned may be struck. */
  private lookAtWork(tool: number): void {
    const left = this.finish[tool] - this.now
    this.clocks.takeBack(tool, left)
    this.begin(tool, this.now, left, false)
  }

  private comeBy(tool: number, time: number): void {
    this.at[tool] = Math.min(this.at[tool], time)
  }

  // ---- requests ----------------------------------------------------------------

  protected override promised(take: number, put: number): void {
    super.promised(take, put)
    this.limitRequests()
  }

  /** Who hands wafers straight to the tools does not yet know when one is struck: only the eager drive asks ahead. */
  private limitRequests(): void {
    if (!this.input.direct || !this.signals.eager) return
    if (this.input.limitRequests(this.calls.noneThereBefore())) this.signals.grew = true
  }

  abstract begin(tool: number, time: number, work: number, isStart: boolean): void
}
