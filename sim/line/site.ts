import { quantity } from '../base/quantity.ts'
import { shareAbove } from '../chance/above.ts'
import { toLaw } from '../chance/law.ts'
import { closures, openBetween, opensFrom, openTime, weekOf } from './calendar.ts'
import { clockTimes, WEEK } from './clock.ts'
import { meanTime } from './means.ts'
import { type Asks, type Presence, presenceOf, skillsOf } from './presence.ts'
import { type CalendarStop, type Recurrence, recurrenceOf } from './recurrence.ts'
import type { ClockTime, Line, SiteEvent, Step } from './types.ts'

/** What the whole line does to the tools of a step, on paper. Times in seconds. */
export interface Site extends Presence {
  /** Time to reach a tool of the quickest crew with a skill; none without a skill. */
  reach(skill: string | undefined): number
  /** Share of the open time on which work falls that is due at these times by the clock, and begins when the line opens where that is asked for. */
  shareTaken(at: readonly ClockTime[], lasts: number, begins: 'when due' | 'when open'): number
  /** How a stop by the calendar comes. */
  recurrence(stop: CalendarStop): Recurrence
  /** Mean time from any moment to the next of its shift changes, or to `most` if that is earlier. */
  untilShiftChange(asks: Asks, most: number): number
  /** Whether the time to reach a tool differs from call to call. */
  scatters(skill: string | undefined): boolean
  /** How often in an open second a tool goes on after such work: work that ends while the line is closed all night is one. */
  returnsPerSecond(at: readonly ClockTime[], lasts: number, begins: 'when due' | 'when open'): number
  /** Share of all hours in which the line is open. */
  readonly openShare: number
  /** Share of the open time that events, warming up after them and after closed hours leave to a step. */
  upShare(step: Step): number
}

export function siteOf({ calendar, crews = {}, events = [] }: Line): Site {
  const open = weekOf(calendar)
  const presence = presenceOf(calendar, crews)
  const openSeconds = openTime(calendar)
  const closedLengths = closures(calendar).map(({ from, to }) => to - from)
  const reaches = new Map<string, number>()
  const scattering = new Set<string>()
  for (const [name, crew] of Object.entries(crews))
    for (const skill of skillsOf(name, crew)) {
      const reach = crew.reach === undefined ? 0 : meanTime(crew.reach)
      reaches.set(skill, Math.min(reach, reaches.get(skill) ?? Infinity))
      if (typeof crew.reach === 'object') scattering.add(skill)
    }

  function shareTaken(at: readonly ClockTime[], lasts: number, begins: 'when due' | 'when open'): number {
    let seconds = 0
    for (const due of clockTimes(at)) {
      const from = begins === 'when due' ? due : opensFrom(calendar, due)
      seconds += openBetween(open, from, from + lasts)
    }
    return Math.min(1, seconds / openSeconds)
  }

  // Asked for each tool and lane again.
  const known = new Map<string, Recurrence>()
  function recurrence(stop: CalendarStop): Recurrence {
    const key = Object.values(stop).join(' ')
    const made = known.get(key) ?? recurrenceOf(calendar, stop)
    known.set(key, made)
    return made
  }

  function returnsPerSecond(
    at: readonly ClockTime[],
    lasts: number,
    begins: 'when due' | 'when open',
  ): number {
    const returns = clockTimes(at).map(due => {
      const from = begins === 'when due' ? due : opensFrom(calendar, due)
      return opensFrom(calendar, from + lasts) % WEEK
    })
    return new Set(returns).size / openSeconds
  }

  function upShare({ step, warmUp }: Step): number {
    let share = 1
    for (const { steps, every, lasts } of events)
      if (!steps || steps.includes(step))
        share *= Math.max(0, 1 - (meanTime(lasts) + coldAfter(lasts, warmUp)) / meanTime(every))
    if (!warmUp) return share
    const cold = closedLengths.filter(length => length > quantity('time', warmUp.after)).length
    return share * Math.max(0, 1 - (cold * meanTime(warmUp.lasts)) / openSeconds)
  }

  return {
    reach: skill => (skill === undefined ? 0 : (reaches.get(skill) ?? 0)),
    shareTaken,
    recurrence,
    ...presence,
    untilShiftChange: (asks, most) => untilNext(presence.shiftChanges(asks), most),
    scatters: skill => skill !== undefined && scattering.has(skill),
    returnsPerSecond,
    openShare: openSeconds / WEEK,
    upShare,
  }
}

/** Mean time from any moment of the week to the next of these moments, or to `most` if that is earlier [s]. */
function untilNext(moments: readonly number[], most: number): number {
  if (moments.length === 0) return most
  const gaps = moments.map((at, m) => (m + 1 < moments.length ? moments[m + 1] : moments[0] + WEEK) - at)
  return (
    gaps.reduce((sum, gap) => sum + Math.min(gap, most) ** 2 / 2 + Math.max(0, gap - most) * most, 0) / WEEK
  )
}

/** Mean time for which a tool warms up after an event that lasts so long [s]. */
function coldAfter(lasts: SiteEvent['lasts'], warmUp: Step['warmUp']): number {
  if (!warmUp) return 0
  const law = toLaw(lasts, text => quantity('time', text), 1)
  return shareAbove(law, quantity('time', warmUp.after)) * meanTime(warmUp.lasts)
}
