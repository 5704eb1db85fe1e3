import { closedSpans, type Span } from '../../line/calendar.ts'
import { DAY, DAYS } from '../../line/clock.ts'
import type { Crew, Line, Shift } from '../../line/types.ts'
import type { DayTime } from '../../line/types-people.ts'

/**
 * The line without closed hours: they become shifts of their own, in which each crew is as
 * strong as in its strongest one. The shifts that it has stay, so what is due at their
 * changes stays due then.
 */
export function alwaysOpen(line: Line): Line {
  const { calendar, crews = {} } = line
  if (calendar === undefined) return line
  const { runDown: _never, shifts } = calendar
  const filled = shiftsIn(closedSpans(calendar), Object.keys(shifts))
  const names = Object.keys(filled)
  const staffed = Object.entries(crews).map(([name, crew]) => [name, alsoIn(crew, names)])
  return {
    ...line,
    calendar: { shifts: { ...shifts, ...filled } },
    ...(line.crews && { crews: Object.fromEntries(staffed) }),
  }
}

function alsoIn(crew: Crew, shifts: readonly string[]): Crew {
  if (typeof crew.heads === 'number') return crew
  const most = Math.max(0, ...Object.values(crew.heads))
  return { ...crew, heads: { ...crew.heads, ...Object.fromEntries(shifts.map(name => [name, most])) } }
}

/** Shifts that fill spans of the week, none longer than to midnight; the same hours of several days are one. */
function shiftsIn(spans: readonly Span[], taken: readonly string[]): Record<string, Shift> {
  const pieces = spans.flatMap(byDay)
  const hours = [...new Set(pieces.map(({ hours }) => hours))]
  const shifts = hours.map((key, k): readonly [string, Shift] => {
    const [from, to] = key.split(' ') as [DayTime, DayTime]
    const days = pieces.filter(piece => piece.hours === key).map(({ day }) => DAYS[day])
    return [freeName(`closed hours ${k + 1}`, taken), { from, to, days }]
  })
  return Object.fromEntries(shifts)
}

/** Parts of a span of the week, each within one day (0 is Monday). */
function byDay({ from, to }: Span): { readonly day: number; readonly hours: string }[] {
  const parts: { day: number; hours: string }[] = []
  for (let start = from; start < to; ) {
    const day = Math.floor(start / DAY)
    const end = Math.min(to, (day + 1) * DAY)
    parts.push({ day, hours: `${timeOfDay(start)} ${timeOfDay(end)}` })
    start = end
  }
  return parts
}

/** Shifts begin and end at whole minutes. */
function timeOfDay(second: number): string {
  const minutes = Math.round((second % DAY) / 60)
  const two = (n: number) => String(n).padStart(2, '0')
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`
}

function freeName(name: string, taken: readonly string[]): string {
  return taken.includes(name) ? freeName(`${name}'`, taken) : name
}
