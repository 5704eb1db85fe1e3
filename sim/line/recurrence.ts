import { closures, openBetween, opensAfter, type Span, weekOf } from './calendar.ts'
import { WEEK } from './clock.ts'
import type { Calendar } from './types.ts'

/** How a stop by the calendar comes on a tool that is never down for anything else. Times in seconds. */
export interface Recurrence {
  /** Mean time from the beginning of one to that of the next, closed hours counted. */
  readonly cycle: number
  /** Share of the open time that it takes. */
  readonly taken: number
}

/** A stop by the calendar, on paper. */
export interface CalendarStop {
  /** Mean time from the end of one to when the next is due, and how long it takes the tool [s]. */
  readonly every: number
  readonly lasts: number
  /** What falls due in closed hours begins when the line opens. */
  readonly waitsForOpening: boolean
  /** Neither time scatters: it comes at the same hours for ever. First due at. */
  readonly firstAt: number | undefined
}

/** So many are followed where they come at the same hours for ever. */
const FOLLOWED = 1000
/** Points of an open span at which what falls due there is looked at. */
const POINTS = 16

/**
 * What a stop by the calendar takes of the open time. Where the line never closes, or where it
 * does not wait for it to open, that is lasts / (every + lasts). Else what falls due in closed
 * hours begins when the line opens, all of it in open time: the length of the mean cycle and what
 * it takes there, due at any moment of the week alike, or one after another where nothing scatters.
 */
export function recurrenceOf(calendar: Calendar | undefined, stop: CalendarStop): Recurrence {
  const { every, lasts, waitsForOpening, firstAt } = stop
  const closed = closures(calendar)
  if (closed.length === 0 || !waitsForOpening) return { cycle: every + lasts, taken: lasts / (every + lasts) }
  const open = weekOf(calendar)
  return firstAt === undefined ? anywhere(open, closed, stop) : inTurn(open, closed, firstAt, stop)
}

function anywhere(
  open: readonly Span[],
  closed: readonly Span[],
  { every, lasts }: CalendarStop,
): Recurrence {
  const openTime = lengthOf(open)
  const closedShare = 1 - openTime / WEEK
  const waits = closed.reduce((sum, { from, to }) => sum + (to - from) ** 2 / 2, 0) / lengthOf(closed)
  const afterOpening =
    closed.reduce((sum, { from, to }) => sum + (to - from) * openBetween(open, to, to + lasts), 0) /
    lengthOf(closed)
  const inOpen =
    open.reduce((sum, { from, to }) => {
      const step = (to - from) / POINTS
      let taken = 0
      for (let p = 0.5; p < POINTS; p++) taken += openBetween(open, from + p * step, from + p * step + lasts)
      return sum + taken * step
    }, 0) / openTime
  const cycle = every + closedShare * waits + lasts
  const taken = closedShare * afterOpening + (1 - closedShare) * inOpen
  return { cycle, taken: Math.min(1, taken / (cycle * (openTime / WEEK))) }
}

function inTurn(
  open: readonly Span[],
  closed: readonly Span[],
  firstAt: number,
  { every, lasts }: CalendarStop,
): Recurrence {
  let due = firstAt
  let taken = 0
  let first = 0
  let begin = 0
  for (let n = 0; n <= FOLLOWED; n++) {
    begin = opensAfter(closed, due)
    if (n === 0) first = begin
    else taken += openBetween(open, begin, begin + lasts)
    due = begin + lasts + every
  }
  return {
    cycle: (begin - first) / FOLLOWED,
    taken: Math.min(1, taken / openBetween(open, first, begin)),
  }
}

function lengthOf(spans: readonly Span[]): number {
  return spans.reduce((sum, { from, to }) => sum + to - from, 0)
}
