import { quoted } from '../base/problems.ts'
import { closedSpans, startsOf } from './calendar.ts'
import { DAYS } from './clock.ts'
import { allPlaces, type Place } from './outline.ts'
import type { Line } from './types.ts'

/** What a line does by the clock: only whole days, or whole weeks, are alike. */
export interface Pattern {
  readonly repeats: 'day' | 'week'
  /** What differs within, in words. */
  readonly differs: string
}

/** The pattern of a line; undefined when one hour is like another, but for chance. */
export function patternOf({ calendar, crews }: Line, route: readonly Place[]): Pattern | undefined {
  const open = 'what the calendar leaves open'
  const closes = closedSpans(calendar).length > 0
  const shifts = Object.values(calendar?.shifts ?? {})
  if (shifts.some(shift => startsOf(shift).length < DAYS.length))
    return { repeats: 'week', differs: closes ? open : 'the calendar' }
  const stops = allPlaces(route).flatMap(({ item }) => (item && 'step' in item ? (item.stops ?? []) : []))
  const byDay = stops.find(({ at = [] }) => at.some(time => time.includes(' ')))
  if (byDay) return { repeats: 'week', differs: `when ${quoted(byDay.stop)} is due` }
  if (closes) return { repeats: 'day', differs: open }
  const crewed = Object.values(crews ?? {}).some(({ heads }) => typeof heads === 'object')
  if (crewed) return { repeats: 'day', differs: 'how many people are there' }
  const byClock = stops.find(({ at }) => at !== undefined)
  return byClock && { repeats: 'day', differs: `when ${quoted(byClock.stop)} is due` }
}
