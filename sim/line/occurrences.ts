import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { type Law, least, mean, toLaw, variance } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'
import { dueEvery, numberFromNew } from './availability.ts'
import { isSpread } from './first-times.ts'
import { meanTime } from './means.ts'
import type { Pace } from './pace.ts'
import { isRenewed } from './renewals.ts'
import type { Site } from './site.ts'
import { upTime } from './stop-times.ts'
import type { Step, Stop } from './types.ts'

/** Mean time from one such stop of a tool that never waits to the next [s]. */
export function periodOf(step: Step, stop: Stop, pace: Pace, site: Site): number {
  return dueEvery(step, stop, pace, site) + meanTime(stop.lasts)
}

/**
 * Mean number of such stops of a tool that never waits in a run of `span` seconds, its
 * clocks starting with the run unless `first` says otherwise: of a renewal process,
 * span / mean - (1 - cv^2) / 2 in the long run (Cox 1962, Renewal Theory, section 4.2, from
 * memory), none before the shortest interval is over.
 */
export function comesIn(step: Step, stop: Stop, pace: Pace, site: Site, span: number): number {
  const period = periodOf(step, stop, pace, site)
  const { first, at } = stop
  if (at || isSpread(first)) return span / period
  if (isRenewed(step, stop) && first === undefined) return numberFromNew(step, stop, pace, site, span)
  const law = intervalOf(stop)
  const late = Math.max(0, (1 - variance(law) / mean(law) ** 2) / 2)
  if (first === undefined) {
    const shortest = (upTime(stop, pace) / mean(law)) * least(law)
    return shortest >= span ? 0 : Math.max(0, span / period - late)
  }
  const firsts = [first].flat().map(time => quantity('time', time as Time))
  const each = firsts.map(from => (from >= span ? 0 : 1 + Math.max(0, (span - from) / period - late)))
  return each.reduce((sum, number) => sum + number, 0) / each.length
}

/** What lies between two stops, in what they count. */
function intervalOf({ counts, every }: Stop): Law {
  if (counts === 'wafers' || counts === 'loads') return toLaw(every as Spread<number>, number => number, 1)
  return toLaw(every as Spread<Time>, text => quantity('time', text), 1)
}
