import { onceEach } from '../base/once.ts'
import { quantity } from '../base/quantity.ts'
import { DAY, DAYS, dayTime, WEEK } from './clock.ts'
import type { Calendar, Crew, Shift } from './types.ts'

/**
 * The week of a line, in seconds from Monday 00:00, repeated for ever. A run starts on
 * Monday at 00:00. All spans lie within the week: one over the midnight that ends it is
 * cut in two.
 */

/** A time in which the line is open, in one shift. Without a calendar there is none to name. */
export interface OpenSpan {
  readonly from: number
  readonly to: number
  readonly shift?: string
}

export interface Span {
  readonly from: number
  readonly to: number
}

/** A break of those who are there, of whom this share stays. */
export interface BreakSpan extends Span {
  readonly relief: number
}

/** From `at` until the next entry so many people are there. */
export interface Heads {
  readonly at: number
  readonly heads: number
}

/** One time that a shift is worked; `to` may lie beyond the week. */
interface Turn {
  readonly name: string
  readonly shift: Shift
  readonly from: number
  readonly to: number
}

/** When the line is open, in rising order; all week without a calendar. */
export function weekOf(calendar: Calendar | undefined): readonly OpenSpan[] {
  return calendar ? openSpans(calendar) : [{ from: 0, to: WEEK }]
}

const openSpans = onceEach((calendar: Calendar): readonly OpenSpan[] =>
  turnsOf(calendar)
    .flatMap(({ name, from, to }) => withinWeek(from, to).map(span => ({ ...span, shift: name })))
    .sort((a, b) => a.from - b.from),
)

/** When the line is closed, in rising order. */
export function closedSpans(calendar: Calendar | undefined): readonly Span[] {
  const closed: Span[] = []
  let open = 0
  for (const { from, to } of weekOf(calendar)) {
    if (from > open) closed.push({ from: open, to: from })
    open = to
  }
  return open < WEEK ? [...closed, { from: open, to: WEEK }] : closed
}

/** Lengths of the times in which the line is open without a break, over the end of the week too. */
export function openStretches(calendar: Calendar): readonly number[] {
  const stretches: { from: number; to: number }[] = []
  for (const { from, to } of weekOf(calendar)) {
    const last = stretches.at(-1)
    if (last?.to === from) last.to = to
    else stretches.push({ from, to })
  }
  return wholeLengths(stretches)
}

/** Lengths of spans of the week that do not touch, one over its end as one. */
function wholeLengths(spans: readonly Span[]): readonly number[] {
  return whole(spans).map(({ from, to }) => to - from)
}

/** Spans of the week that do not touch, one over its end as one, which then ends in the next week. */
export function whole(spans: readonly Span[]): readonly Span[] {
  const last = spans.at(-1)
  if (spans.length < 2 || spans[0].from > 0 || last?.to !== WEEK) return spans
  return [...spans.slice(1, -1), { from: last.from, to: WEEK + spans[0].to }]
}

/** Each time in a week for which the line is closed; one over the end of the week ends in the next. */
export function closures(calendar: Calendar | undefined): readonly Span[] {
  return whole(closedSpans(calendar))
}

/** The first second from `at` on, counted from Monday 00:00 of any week, at which the line is open. */
export function opensFrom(calendar: Calendar | undefined, at: number): number {
  return opensAfter(closures(calendar), at)
}

/** The same, for whoever asks often. @param closed `closures` */
export function opensAfter(closed: readonly Span[], at: number): number {
  const week = Math.floor(at / WEEK) * WEEK
  for (const start of [week - WEEK, week])
    for (const { from, to } of closed) if (start + from <= at && at < start + to) return start + to
  return at
}

/** Open time between two moments, counted from Monday 00:00 of any week. @param open `weekOf` */
export function openBetween(open: readonly Span[], from: number, to: number): number {
  return openUntil(open, to) - openUntil(open, from)
}

function openUntil(open: readonly Span[], at: number): number {
  const weeks = Math.floor(at / WEEK)
  const rest = at - weeks * WEEK
  return open.reduce(
    (sum, { from, to }) => sum + weeks * (to - from) + Math.max(0, Math.min(rest, to) - from),
    0,
  )
}

/** Seconds for which the line is open in a week. */
export function openTime(calendar: Calendar | undefined): number {
  return weekOf(calendar).reduce((sum, { from, to }) => sum + to - from, 0)
}

/** Share of all hours in which the line is open. */
export function openShare(calendar: Calendar | undefined): number {
  return openTime(calendar) / WEEK
}

/** When the line opens after having been closed. Nowhere when it never closes. */
export function openings(calendar: Calendar | undefined): readonly number[] {
  const closed = closedSpans(calendar)
  if (closed.length === 0) return []
  // Closed over the midnight that ends the week: it opens only in the next one.
  const overMidnight = closed[0].from === 0
  return closed
    .map(({ to }) => to)
    .filter(to => to < WEEK || !overMidnight)
    .map(to => to % WEEK)
    .sort((a, b) => a - b)
}

/** Moments at which a shift begins or ends, in rising order. */
export function shiftChanges(calendar: Calendar | undefined): readonly number[] {
  if (!calendar) return []
  const moments = turnsOf(calendar).flatMap(({ from, to }) => [from, to % WEEK])
  return [...new Set(moments)].sort((a, b) => a - b)
}

/** Breaks of all shifts, in rising order. */
export function breakSpans(calendar: Calendar | undefined): readonly BreakSpan[] {
  return calendar ? breaksOf(calendar) : []
}

const breaksOf = onceEach((calendar: Calendar): readonly BreakSpan[] =>
  turnsOf(calendar)
    .flatMap(({ shift, from }) =>
      (shift.breaks ?? []).flatMap(({ at, lasts, relief = '0 %' }) => {
        const start = from + afterStart(shift, at)
        return withinWeek(start, start + quantity('time', lasts)).map(span => ({
          ...span,
          relief: quantity('share', relief),
        }))
      }),
    )
    .sort((a, b) => a.from - b.from),
)

/**
 * How many of a crew are there, over the week: the first entry is at 0, and each one differs
 * from the one before. In a break the relief stays, rounded down.
 */
export function headsAt(crew: Crew, calendar: Calendar | undefined): readonly Heads[] {
  const breaks = breakSpans(calendar)
  const open = weekOf(calendar)
  const edges = [0, ...[...open, ...breaks].flatMap(({ from, to }) => [from, to])].filter(at => at < WEEK)
  const moments = [...new Set(edges)].sort((a, b) => a - b)
  const all = moments.map(at => {
    const shift = open.find(span => holds(span, at))?.shift
    const relief = breaks.find(span => holds(span, at))?.relief
    return { at, heads: present(headsIn(crew, shift), relief) }
  })
  return all.filter(({ heads }, index) => index === 0 || heads !== all[index - 1].heads)
}

/** Heads of a crew in a shift, breaks left out; outside all shifts only those that are there always. */
export function headsIn({ heads }: Crew, shift: string | undefined): number {
  if (typeof heads === 'number') return heads
  return shift !== undefined && Object.hasOwn(heads, shift) ? heads[shift] : 0
}

/** Heads of a crew, mean over the hours in which the line is open. */
export function meanHeads(crew: Crew, calendar: Calendar | undefined): number {
  const profile = headsAt(crew, calendar)
  let sum = 0
  for (const { from, to } of weekOf(calendar))
    profile.forEach(({ at, heads }, index) => {
      const end = index + 1 < profile.length ? profile[index + 1].at : WEEK
      sum += heads * Math.max(0, Math.min(to, end) - Math.max(from, at))
    })
  return sum / openTime(calendar)
}

/** Heads of a crew on duty, mean over all hours of a week, breaks included: those of a shift count in its hours only. */
export function headsOnDuty(crew: Crew, calendar: Calendar | undefined): number {
  const shifts = weekOf(calendar).map(({ from, to, shift }) => headsIn(crew, shift) * (to - from))
  const closed = closedSpans(calendar).map(({ from, to }) => headsIn(crew, undefined) * (to - from))
  return [...shifts, ...closed].reduce((sum, heads) => sum + heads, 0) / WEEK
}

/** Length of a shift [s]: from and to at the same time of day are a whole day. */
export function shiftLength({ from, to }: Shift): number {
  const length = dayTime(to) - dayTime(from)
  return length > 0 ? length : length + DAY
}

/** From the start of a shift to a time of day within it [s]. */
export function afterStart({ from }: Shift, at: `${number}:${number}`): number {
  return (dayTime(at) - dayTime(from) + DAY) % DAY
}

/** Seconds of the week at which a shift starts. */
export function startsOf({ from, days = DAYS }: Shift): readonly number[] {
  return DAYS.flatMap((day, index) => (days.includes(day) ? [index * DAY + dayTime(from)] : []))
}

function turnsOf({ shifts }: Calendar): readonly Turn[] {
  return Object.entries(shifts).flatMap(([name, shift]) =>
    startsOf(shift).map(from => ({ name, shift, from, to: from + shiftLength(shift) })),
  )
}

/** A span that starts within the week or after it, as spans of the week. */
function withinWeek(from: number, to: number): readonly Span[] {
  if (from >= WEEK) return [{ from: from - WEEK, to: to - WEEK }]
  if (to <= WEEK) return [{ from, to }]
  return [
    { from: 0, to: to - WEEK },
    { from, to: WEEK },
  ]
}

function holds({ from, to }: Span, at: number): boolean {
  return from <= at && at < to
}

/** Rounding must not make 1 of 50 % of 2. */
function present(heads: number, relief: number | undefined): number {
  return relief === undefined ? heads : Math.floor(heads * relief + 1e-9)
}
