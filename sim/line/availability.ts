import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { toLaw } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'
import { isSpread } from './first-times.ts'
import { meanTime } from './means.ts'
import type { Pace } from './pace.ts'
import type { Recurrence } from './recurrence.ts'
import { isRenewed, numbersFromNew, takesPart, timesBetween } from './renewals.ts'
import type { Site } from './site.ts'
import { beginsOf, downTime, putOff, upTime } from './stop-times.ts'
import type { Batch, Step, Stop } from './types.ts'

/**
 * Availability of a unit that is never starved or blocked, and whose stops never wait for a
 * person, but for a good moment as long as they may. Who serves a stop takes the time to reach
 * the tool.
 *
 * Stops that count running time, wafers or loads strike only while the unit works:
 * together 1 / (1 + sum of lasts / every), every as running time (Buzacott 1967, Int.
 * J. Production Research 5, 183-200; from memory). A stop by the calendar takes lasts /
 * (every + lasts), every being the mean time from the end of one to the next (where nights are
 * closed see recurrence.ts), and what it leaves multiplies the rest: the running clocks stand still meanwhile. So does a stop by the clock, with the
 * share of the open time on which it falls, an event of the site, and warming up after the
 * line was closed. For several of these the product takes them as independent.
 */
export function availabilityAt(step: Step, pace: Pace, site: Site): number {
  let running = clearingShare(step, pace, site) + (step.batch ? coating(step.batch) / pace.cycle : 0)
  let calendar = site.upShare(step)
  for (const stop of step.stops ?? []) {
    const down = downTime(step, stop, site)
    if (stop.at) calendar *= 1 - site.shareTaken(stop.at, down, beginsOf(stop))
    else if (stop.counts === 'calendar time') calendar *= 1 - recurrence(step, stop, pace, site).taken
    else running += down / timeBetween(step, stop, pace, site)
  }
  // What is always down still has a rate, so that the shares of lanes can be told.
  return Math.max(calendar, 1e-9) / (1 + running)
}

/**
 * Mean time between two such stops of a unit that never waits, going by the clock of the stop, from the
 * end of one to when the next begins [s]; Infinity when it never comes: only after idleness, or always renewed before.
 */
export function timeBetween(step: Step, stop: Stop, pace: Pace, site: Site): number {
  const own = upTime(stop, pace) + putOff(stop, pace, site)
  if (!isRenewed(step, stop)) return own
  return timesBetween(step, pace, site, calendarPace(step, pace, site)).get(stop.stop) ?? own
}

/** The same without what a stop that nothing renews is put off by: that delays each, but not how often it is due. */
export function dueEvery(step: Step, stop: Stop, pace: Pace, site: Site): number {
  return isRenewed(step, stop) ? timeBetween(step, stop, pace, site) : upTime(stop, pace)
}

/** Mean number of such stops, which others renew, that a unit has in so long from when all have just been done [s, by the clock of the stop]. */
export function numberFromNew(step: Step, stop: Stop, pace: Pace, site: Site, span: number): number {
  return numbersFromNew(step, pace, site, calendarPace(step, pace, site), span).get(stop.stop) ?? 0
}

/** Time by the calendar for each moment at work, or down for stops with renewals: the line may be closed, or the unit down for all else. */
export function calendarPace(step: Step, pace: Pace, site: Site): number {
  return 1 / Math.max(1e-6, site.openShare * upWithout(step, pace, site))
}

/** Share of the open time that all but the stops with renewals leave to a unit. */
function upWithout(step: Step, pace: Pace, site: Site): number {
  const others = (step.stops ?? []).filter(stop => !takesPart(step, stop))
  return availabilityAt({ ...step, stops: others }, pace, site)
}

/** How a stop by the calendar comes. */
function recurrence(step: Step, stop: Stop, pace: Pace, site: Site): Recurrence {
  const { skill, every, lasts, first } = stop
  const time = (text: Time) => quantity('time', text)
  const scatters = [every as Spread<Time>, lasts].some(spread => toLaw(spread, time, 1).kind !== 'fixed')
  // Tools that begin at times of their own are taken as one, in step with nothing.
  const anywhere = scatters || site.scatters(skill) || isSpread(first) || isRenewed(step, stop)
  const firstAt = anywhere ? undefined : (first ?? every)
  return site.recurrence({
    every: timeBetween(step, stop, pace, site),
    lasts: downTime(step, stop, site),
    waitsForOpening: beginsOf(stop) === 'when open',
    firstAt: typeof firstAt === 'string' ? quantity('time', firstAt) : undefined,
  })
}

/**
 * How often such a stop comes in an open second. Planned work by the calendar that needs nobody
 * comes while the line is closed as well, and its set-up wafers are the first ones after that.
 *
 * @param up share of the open time in which the unit is up
 */
export function comesPerSecond(step: Step, stop: Stop, pace: Pace, up: number, site: Site): number {
  const down = downTime(step, stop, site)
  if (stop.at) return site.returnsPerSecond(stop.at, down, beginsOf(stop))
  if (stop.counts !== 'calendar time') return up / timeBetween(step, stop, pace, site)
  return 1 / recurrence(step, stop, pace, site).cycle / site.openShare
}

/** Time for which a tube is taken by the coating of cleaned boats, per load [s]. */
export function coating({ boats }: Batch): number {
  const { coating: lasts, every } = boats?.cleaning ?? { every: 1 }
  return lasts === undefined ? 0 : meanTime(lasts) / every
}

/** Time to clear away shards, per time of work. */
function clearingShare({ breakage }: Step, { cycle, wafers }: Pace, site: Site): number {
  if (breakage === undefined || typeof breakage === 'string' || breakage.clearing === undefined) return 0
  const { share = '100 %', lasts, skill } = breakage.clearing
  const perPiece = wafers * quantity('share', breakage.share) * quantity('share', share)
  return (perPiece * (site.reach(skill) + meanTime(lasts))) / cycle
}
