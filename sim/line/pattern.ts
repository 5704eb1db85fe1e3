import { quoted } from '../base/problems.ts'
import { closedSpans, startsOf } from './calendar.ts'
import { DAYS } from './clock.ts'
import { allPlaces, type Place } from './outline.ts'
import type { Line } from './types.ts'

/** What differs from day to day, so that only whole weeks are alike; undefined when nothing does. */
export function differsByDay({ calendar }: Line, route: readonly Place[]): string | undefined {
  const shifts = Object.values(calendar?.shifts ?? {})
  const some = shifts.some(shift => startsOf(shift).length < DAYS.length)
  if (some) return closedSpans(calendar).length > 0 ? 'what the calendar leaves open' : 'the calendar'
  const stops = allPlaces(route).flatMap(({ item }) => (item && 'step' in item ? (item.stops ?? []) : []))
  const byDay = stops.find(({ at = [] }) => at.some(time => time.includes(' ')))
  return byDay === undefined ? undefined : `when ${quoted(byDay.stop)} is due`
}
