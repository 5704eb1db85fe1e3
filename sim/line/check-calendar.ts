import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { formatQuantity, quantity } from '../base/quantity.ts'
import { afterStart, closedSpans, openStretches, shiftLength, startsOf } from './calendar.ts'
import { DAY, DAYS, WEEK } from './clock.ts'
import { problemsOf } from './issues.ts'
import { allPlaces, type Place } from './outline.ts'
import { calendar as calendarSchema } from './schema-people.ts'
import type { Calendar, Shift } from './types.ts'

/** The calendar, and what asks for one. */
export function checkCalendar(line: Readonly<Record<string, unknown>>, route: readonly Place[]): Problem[] {
  return line.calendar === undefined ? checkShiftChanges(route) : checkShifts(line.calendar)
}

/** Without shifts there is no change of them. */
function checkShiftChanges(route: readonly Place[]): Problem[] {
  return allPlaces(route).flatMap(({ item, path }) =>
    (item && 'step' in item ? (item.stops ?? []) : []).flatMap(({ stop, waits }, index) =>
      waits?.until === 'shift change'
        ? [
            problemAt(
              [...path, 'stops', index, { name: stop }, 'waits', 'until'],
              '"shift change"',
              '"calendar" in the line',
              'without shifts there is no change of them',
            ),
          ]
        : [],
    ),
  )
}

/** What cannot be in a calendar whose values are each of the right form; nothing of any other. */
function checkShifts(value: unknown): Problem[] {
  if (!isPlainObject(value) || problemsOf(calendarSchema, value, []).length > 0) return []
  const { shifts } = value as unknown as Calendar
  const path = ['calendar', 'shifts']
  if (Object.keys(shifts).length === 0)
    return [
      problemAt(path, 'an empty object', 'at least one shift', 'without shifts, leave the calendar out'),
    ]
  const problems = [
    ...Object.entries(shifts).flatMap(([name, shift]) => checkShift(shift, [...path, { name }])),
    ...checkOverlaps(shifts, path),
  ]
  return problems.length > 0 ? problems : checkRunDown(value as unknown as Calendar)
}

/** Where the line runs down for longer than it is ever open, no wafer comes in. */
function checkRunDown(calendar: Calendar): Problem[] {
  const { runDown } = calendar
  if (runDown === undefined || closedSpans(calendar).length === 0) return []
  const longest = Math.max(...openStretches(calendar))
  if (quantity('time', runDown) < longest) return []
  const expected = `less than the longest time for which the line is open, ${formatQuantity('time', longest)}`
  return [problemAt(['calendar', 'runDown'], quoted(runDown), expected, 'no wafer would ever enter')]
}

function checkShift(shift: Shift, path: Path): Problem[] {
  const { days, breaks = [] } = shift
  const problems: Problem[] = []
  if (days?.length === 0) problems.push(problemAt([...path, 'days'], 'an empty list', 'at least one day'))
  days?.forEach((day, index) => {
    if (days.indexOf(day) < index)
      problems.push(problemAt([...path, 'days', index], quoted(day), 'each day once'))
  })
  const length = shiftLength(shift)
  const spans = breaks.map(({ at, lasts }) => {
    const from = afterStart(shift, at)
    return { from, to: from + quantity('time', lasts) }
  })
  spans.forEach(({ from, to }, index) => {
    const breakPath = [...path, 'breaks', index]
    const found = `a break of ${formatQuantity('time', to - from)} at ${quoted(breaks[index].at)}`
    if (to > length)
      problems.push(problemAt(breakPath, found, `one within the shift, ${shift.from} to ${shift.to}`))
    const other = spans.findIndex((span, before) => before < index && span.from < to && from < span.to)
    if (other >= 0)
      problems.push(
        problemAt(breakPath, found, `one apart from breaks[${other}], at ${quoted(breaks[other].at)}`),
      )
  })
  return problems
}

interface Turn {
  readonly name: string
  readonly from: number
  readonly to: number
}

/** Each moment belongs to one shift: by it people are counted, and reports tell of it. One problem for two shifts. */
function checkOverlaps(shifts: Calendar['shifts'], path: Path): Problem[] {
  const turns = Object.entries(shifts)
    .flatMap(([name, shift]) => startsOf(shift).map(from => ({ name, from, to: from + shiftLength(shift) })))
    .sort((a, b) => a.from - b.from)
  const told = new Set<string>()
  return turns.flatMap((turn, index) => {
    const next = turns[index + 1] ?? nextWeek(turns[0])
    if (turn.to <= next.from) return []
    const pair = [turn.name, next.name].sort().join('\n')
    if (told.has(pair)) return []
    told.add(pair)
    const found = `a start on ${clockText(next.from)}`
    const expected = `no two shifts at the same time; ${quoted(turn.name)} ends on ${clockText(turn.to)}`
    return [problemAt([...path, { name: next.name }, 'from'], found, expected)]
  })
}

function nextWeek({ name, from, to }: Turn): Turn {
  return { name, from: from + WEEK, to: to + WEEK }
}

function clockText(at: number): string {
  const second = at % WEEK
  const minutes = Math.round((second % DAY) / 60)
  const two = (value: number) => String(value).padStart(2, '0')
  return `${DAYS[Math.floor(second / DAY)]} ${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`
}

/** Names of the shifts, whatever the form of the calendar; undefined without one. */
export function shiftNames(line: Readonly<Record<string, unknown>>): readonly string[] | undefined {
  if (line.calendar === undefined) return undefined
  const shifts = isPlainObject(line.calendar) ? line.calendar.shifts : undefined
  return isPlainObject(shifts) ? Object.keys(shifts) : []
}

/** Shifts that a person names, as `heads` does, must be there. */
export function unknownShift(shifts: readonly string[] | undefined): string {
  if (shifts === undefined) return 'a calendar with this shift'
  return shifts.length === 0
    ? 'a shift of the calendar'
    : `a shift of the calendar: ${wordList(shifts.map(quoted), 'or')}`
}
