import { closedSpans, headsAt, weekOf } from '../line/calendar.ts'
import { skillsOf } from '../line/presence.ts'
import type { Calendar, Crew, Fleet, Line } from '../line/types.ts'
import { ticks, timeLaw } from './laws.ts'
import { type CallPlan, type CrewPlan, type PeoplePlan, TICKS_PER_SECOND, TICKS_PER_WEEK } from './plan.ts'

/** Seconds of the week as ticks. */
export function weekTicks(seconds: number): number {
  return Math.round(seconds * TICKS_PER_SECOND)
}

/** Who asks for whom. */
export interface Asks {
  readonly skill?: string
  readonly people?: number
  readonly priority?: number
}

/** The people and vehicles of a line; fleets are a skill of their own name. */
export function peoplePlan(line: Line): PeoplePlan {
  const crews = Object.entries(line.crews ?? {})
  const fleets = Object.entries(line.fleets ?? {})
  const skills = [
    ...new Set([...crews.flatMap(([name, crew]) => skillsOf(name, crew)), ...fleets.map(([n]) => n)]),
  ]
  const index = (skill: string) => skills.indexOf(skill)
  const spans = weekOf(line.calendar)
  const shifts = line.calendar ? Object.keys(line.calendar.shifts) : ['always']
  return {
    skills,
    crews: [
      ...crews.map(([name, crew]) => crewPlan(name, crew, line.calendar, index)),
      ...fleets.map(([name, fleet]) => fleetPlan(name, fleet, index)),
    ],
    shifts,
    week: weekPlan(spans, shifts),
  }
}

/** The call for people of that skill; undefined when nobody is asked for. */
export function callPlan({ skill, people, priority }: Asks, plan: PeoplePlan): CallPlan | undefined {
  if (skill === undefined) return undefined
  return { skill: plan.skills.indexOf(skill), people: people ?? 1, priority: priority ?? 0 }
}

function crewPlan(
  name: string,
  crew: Crew,
  calendar: Calendar | undefined,
  index: (skill: string) => number,
): CrewPlan {
  return {
    name,
    kind: 'crew',
    skills: skillsOf(name, crew).map(index),
    reach: timeLaw(crew.reach ?? '0 s'),
    heads: headsAt(crew, calendar).map(({ at, heads }) => ({ from: weekTicks(at), heads })),
  }
}

function fleetPlan(name: string, fleet: Fleet, index: (skill: string) => number): CrewPlan {
  const reach = timeLaw(fleet.reach ?? '0 s')
  return { name, kind: 'fleet', skills: [index(name)], reach, heads: [{ from: 0, heads: fleet.number }] }
}

function weekPlan(spans: ReturnType<typeof weekOf>, shifts: readonly string[]): PeoplePlan['week'] {
  const week: { from: number; shift: number }[] = []
  let end = 0
  for (const { from, to, shift } of spans) {
    if (from > end) week.push({ from: weekTicks(end), shift: -1 })
    week.push({ from: weekTicks(from), shift: shift === undefined ? 0 : shifts.indexOf(shift) })
    end = to
  }
  if (weekTicks(end) < TICKS_PER_WEEK) week.push({ from: weekTicks(end), shift: -1 })
  return week
}

/** Hours of the week in which the line is closed [ticks]; over Sunday midnight in one piece, which ends after the week. */
export function closings(calendar: Calendar | undefined): { starts: number[]; ends: number[] } {
  const spans = closedSpans(calendar).map(({ from, to }) => ({ from: weekTicks(from), to: weekTicks(to) }))
  const [first, last] = [spans[0], spans[spans.length - 1]]
  if (spans.length > 1 && first.from === 0 && last.to === TICKS_PER_WEEK) {
    spans.shift()
    last.to = TICKS_PER_WEEK + first.to
  }
  return { starts: spans.map(span => span.from), ends: spans.map(span => span.to) }
}

/** When no wafer enters [ticks of the week]: the closed hours, and the run-down before each. */
export function shutHours(calendar: Calendar | undefined): { from: number; to: number }[] {
  const runDown = calendar?.runDown === undefined ? 0 : ticks(calendar.runDown)
  const { starts, ends } = closings(calendar)
  const spans = starts.flatMap((start, i) => inWeek(start - runDown, ends[i]))
  const sorted = spans.sort((a, b) => a.from - b.from)
  const merged: { from: number; to: number }[] = []
  for (const span of sorted) {
    const last = merged[merged.length - 1]
    if (last && span.from <= last.to) last.to = Math.max(last.to, span.to)
    else merged.push(span)
  }
  return merged
}

/** A span that may reach over either end of the week, cut to the week. */
function inWeek(from: number, to: number): { from: number; to: number }[] {
  if (from < 0) return [{ from: 0, to }, ...inWeek(from + TICKS_PER_WEEK, TICKS_PER_WEEK)]
  if (to > TICKS_PER_WEEK) return [{ from, to: TICKS_PER_WEEK }, ...inWeek(0, to - TICKS_PER_WEEK)]
  return [{ from, to }]
}
