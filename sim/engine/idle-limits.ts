import type { StopPlan } from '../plan/plan.ts'

/**
 * Stops after idleness have no clock: when a tool is to work again, the time since the end of
 * its last work is compared with their limits [ticks; Infinity: there are none].
 */
export class IdleLimits {
  /** Longest time without work after which no stop is due. */
  readonly longest: number
  /** None that calls for people; none with set-up wafers. What renews others counts among both. */
  readonly calls: number
  readonly setUp: number

  constructor(private readonly stops: readonly StopPlan[]) {
    const limit = (some: readonly StopPlan[]) =>
      Math.min(...some.map(({ afterIdle = Infinity }) => afterIdle))
    this.longest = limit(stops)
    this.calls = limit(stops.filter(({ call, renews }) => call || renews.length > 0))
    this.setUp = limit(stops.filter(({ setUp, renews }) => setUp[1] > 0 || renews.length > 0))
  }

  /** The stop that is due after so long without work [ticks]: of several the one that asks for the longest; -1: none. */
  dueAfter(idle: number): number {
    let due = -1
    let longest = -1
    for (let s = 0; s < this.stops.length; s++) {
      const { afterIdle = Infinity } = this.stops[s]
      if (afterIdle >= idle || afterIdle <= longest) continue
      due = s
      longest = afterIdle
    }
    return due
  }
}
