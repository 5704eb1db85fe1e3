import type { TimeLimit } from '../line/types.ts'
import { share, ticks } from './laws.ts'
import type { StationPlan, TimeLimitPlan } from './plan.ts'

type Draft<T> = { -readonly [K in keyof T]: T[K] }

/** Time limits, and which stations must note when wafers leave them. */
export class LimitCompiler {
  /** Steps that limits count from; their place in the list is their column of the wafer table. */
  private readonly stamped: number[] = []

  /** @param sendBack lays the way back to a step */
  limitPlan(
    { after: _after, atMost, late }: TimeLimit,
    after: number,
    sendBack: (to: string) => { channel: number; loop: number },
  ): TimeLimitPlan {
    const plan = { after, stamp: this.stampOf(after), atMost: ticks(atMost), loses: 0, back: 0 }
    const stays = { channel: -1, loop: -1, thenScrap: true }
    if (late === 'scrap') return { ...plan, ...stays, late: 'scrap' }
    if ('loses' in late) return { ...plan, ...stays, late: 'pass', loses: share(late.loses) }
    return { ...plan, ...sendBack(late.to), late: 'back', back: late.atMost, thenScrap: late.then !== 'pass' }
  }

  private stampOf(step: number): number {
    const known = this.stamped.indexOf(step)
    return known >= 0 ? known : this.stamped.push(step) - 1
  }

  /** Tells the stations which column they write. @returns number of columns */
  stampStations(stations: readonly Draft<StationPlan>[]): number {
    for (const station of stations) if ('stamp' in station) station.stamp = this.stamped.indexOf(station.step)
    return this.stamped.length
  }
}
