import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { shareAbove } from '../chance/above.ts'
import { mean, toLaw } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'
import { clockTimes, WEEK } from './clock.ts'
import { meanCount, meanTime } from './means.ts'
import type { Pace } from './pace.ts'
import type { Site } from './site.ts'
import type { Step, Stop } from './types.ts'

/**
 * How long a stop that is due is put off at most by what it waits for, on a unit that is never
 * starved: until then it does not come again, since its clock starts anew at its end [s].
 */
export function putOff(stop: Stop, { work }: Pace, site: Site): number {
  const { waits, counts } = stop
  if (waits === undefined) return 0
  const most = quantity('time', waits.atMost)
  if (waits.until === 'shift change') return site.untilShiftChange(stop, most)
  if (waits.until === 'starved') return most
  if (waits.until === 'people come') return untilPeopleCome(stop, most, site)
  // Loads are counted at their end; else the stop is due anywhere in one.
  return counts === 'loads' ? 0 : Math.min(most, work / 2)
}

/** Somebody must be there, and then come: `most` is for both. */
function untilPeopleCome(stop: Stop, most: number, site: Site): number {
  const reach = Math.min(site.reach(stop.skill), most)
  return site.untilThere(stop, most - reach) + reach
}

/** Planned work that needs nobody is done in closed hours; failures and work with people begin when the line opens. */
export function beginsOf({ skill, kind = 'unscheduled' }: Stop): 'when due' | 'when open' {
  return skill !== undefined || kind === 'unscheduled' ? 'when open' : 'when due'
}

/** How long such a stop takes a tool down: until someone is there, the stop itself, and warming up [s]. */
export function downTime({ warmUp }: Step, { lasts, skill, waits }: Stop, site: Site): number {
  const law = toLaw(lasts, text => quantity('time', text), 1)
  const worksOn = waits?.until === 'people come' ? quantity('time', waits.atMost) : 0
  const reach = Math.max(0, site.reach(skill) - worksOn)
  // The tool stands while somebody is on the way, too.
  const cold = warmUp ? shareAbove(law, quantity('time', warmUp.after) - reach) * meanTime(warmUp.lasts) : 0
  return reach + mean(law) + cold
}

/**
 * Mean time between two such stops of a unit that never waits, going by the clock of
 * the stop, from the end of one to the next [s]; Infinity for what comes after idleness only.
 */
export function upTime(stop: Stop, pace: Pace): number {
  const { counts, every, at, afterIdle, lasts } = stop
  const { cycle, work } = pace
  if (afterIdle) return Infinity
  if (at) return WEEK / clockTimes(at).length - meanTime(lasts)
  if (counts === 'wafers' || counts === 'loads')
    return (meanCount(every as Spread<number>) + uncounted(stop, pace)) * cycle
  const time = meanTime(every as Spread<Time>)
  return counts === 'calendar time' ? time : time * (cycle / work)
}

/**
 * Wafers count when they reach the end of a belt. Those on it when the stop comes go in uncounted, from one
 * such stop to the next, as far as they reach the end while it lasts or are lost to it.
 */
export function uncounted({ inside = 'run out', lasts }: Stop, { transit, cycle }: Pace): number {
  const content = transit / cycle
  if (content === 0 || inside === 'resume') return 0
  if (inside === 'lose') return content
  const { lose } = typeof inside === 'string' ? { lose: 0 } : inside
  const lost = typeof lose === 'number' ? lose : (lose[0] + lose[1]) / 2
  return Math.min(lost + meanTime(lasts) / cycle, content)
}
