import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { formatNumber, quantity } from '../base/quantity.ts'
import { type Asks, ableCrews, asksOf, mostHeads, neverServed } from './asks.ts'
import { dueEvery } from './availability.ts'
import { headsIn, meanHeads, openShare, type Span, weekOf } from './calendar.ts'
import { lineYield, paperUse } from './capacity.ts'
import { clockTimes, WEEK } from './clock.ts'
import { meanTime } from './means.ts'
import type { Place } from './outline.ts'
import { pacesOf } from './pace.ts'
import { skillsOf } from './presence.ts'
import { type Site, siteOf } from './site.ts'
import { downTime } from './stop-times.ts'
import type { Boxes, Carriers, Line, Step, Stop } from './types.ts'

/** Probable mistakes in who serves what: crews and fleets against what is asked of them. */
export function warningsOfPeople(line: Line, route: readonly Place[]): Problem[] {
  const work = workAsked(line, route)
  return [
    ...warnOfIdle(line, work),
    ...warnOfFewPeople(line, route),
    ...warnOfShortShifts(line, route),
    ...warnOfEmptyShifts(line, route),
    ...warnOfCrewLoad(line, work),
    ...warnOfFleetLoad(line, work),
  ]
}

/** Persons (or vehicles) kept busy on average by each skill or fleet, on paper. */
type Work = ReadonlyMap<string, number>

/**
 * Every tool is taken to work as much as the weakest step of the line, or its feed, lets
 * it: stops that count its work come no more often than that.
 */
function workAsked(line: Line, route: readonly Place[]): Work {
  const site = siteOf(line)
  const passed = lineYield(line)
  const { table, good, usage: used } = paperUse(line)
  // They work while the line is open.
  const open = openShare(line.calendar)
  const work = new Map<string, number>()
  const add = (name: string | undefined, busy: number) =>
    name === undefined ? undefined : work.set(name, (work.get(name) ?? 0) + busy)
  walk(route, 1)
  addSwaps(line.bins?.boxes)
  return work

  function walk(part: readonly Place[], lanes: number): void {
    for (const { item, lanes: inner } of part) {
      if (item && 'step' in item) addStep(item, lanes)
      if (item && 'carriers' in item) addCarriers(item)
      for (const lane of inner) walk(lane.route, lanes * lane.names.length)
    }
  }

  function addStep(step: Step, lanes: number): void {
    const row = table.find(candidate => candidate.step === step.step)
    const usage = used.get(step.step) ?? 1
    for (const stop of step.stops ?? []) {
      const each = site.reach(stop.skill) + meanTime(stop.lasts)
      add(stop.skill, lanes * stopsPerSecond(step, stop, usage, site) * each * (stop.people ?? 1))
    }
    const clearing = typeof step.breakage === 'object' ? step.breakage.clearing : undefined
    if (!clearing || typeof step.breakage !== 'object' || !row) return
    const broken = quantity('share', step.breakage.share) * quantity('share', clearing.share ?? '100 %')
    const each = site.reach(clearing.skill) + meanTime(clearing.lasts)
    add(clearing.skill, usage * (row.netPerHour / 3600) * broken * each * (clearing.people ?? 1))
  }

  /** Every good cell is sorted into a box. */
  function addSwaps(boxes: Boxes | undefined): void {
    if (!boxes) return
    const { lasts, skill, people = 1 } = boxes.swap
    add(skill, (good / open / boxes.holds) * (site.reach(skill) + meanTime(lasts)) * people)
  }

  /** Trips with as many carriers as one can take, all full. */
  function addCarriers({ holds, moved }: Carriers): void {
    const { by, takes, perTrip = 1, returns = '0 s' } = moved
    const fleet = by === undefined ? undefined : line.fleets?.[by]
    const reach = fleet ? meanTime(fleet.reach ?? '0 s') : site.reach(by)
    const trips = good / open / passed / (holds * perTrip)
    if (trips > 0) add(by, trips * (reach + meanTime(takes) + quantity('time', returns)))
  }
}

function stopsPerSecond(step: Step, stop: Stop, usage: number, site: Site): number {
  const paces = pacesOf(step)
  if (stop.at) {
    const units = paces.reduce((sum, pace) => sum + pace.units, 0)
    return (units * clockTimes(stop.at).length) / WEEK
  }
  const part = stop.counts === 'calendar time' ? 1 : usage
  return paces.reduce((sum, pace) => {
    const between = dueEvery(step, stop, pace, site)
    return sum + (part * pace.units) / (between + downTime(step, stop, site))
  }, 0)
}

function warnOfIdle({ crews = {}, fleets = {} }: Line, work: Work): Problem[] {
  const idle = (path: Path, expected: string) =>
    problemAt(path, 'nothing that asks for it', expected, 'they are never called')
  return [
    ...Object.entries(crews).flatMap(([name, crew]) => {
      if (skillsOf(name, crew).some(skill => work.has(skill))) return []
      const skills = wordList(skillsOf(name, crew).map(quoted), 'or')
      return [idle(['crews', { name }], `a stop with the skill ${skills}, or carriers moved by it`)]
    }),
    ...Object.keys(fleets)
      .filter(name => !work.has(name))
      .map(name => idle(['fleets', { name }], `carriers moved by ${quoted(name)}`)),
  ]
}

function warnOfFewPeople(line: Line, route: readonly Place[]): Problem[] {
  return neverServed(line, route).map(({ path, skill, people, most, then }) =>
    problemAt(path, String(people), `at most ${most}, as many as a crew for ${quoted(skill)} ever has`, then),
  )
}

/**
 * Something that needs more people than there are in some shift, though there are some: it
 * waits for another shift. Where a shift has none at all, see below.
 */
function warnOfShortShifts(line: Line, route: readonly Place[]): Problem[] {
  const mostWith = mostHeads(line)
  const week = weekOf(line.calendar)
  return asksOf(line, route).flatMap(({ skill, people, path, waits }) => {
    if (mostWith(skill) < people) return []
    const able = ableCrews(line, skill)
    const most = (shift?: string) => Math.max(...able.map(crew => headsIn(crew, shift)))
    const short = week.filter(({ shift }) => most(shift) > 0 && most(shift) < people)
    const shifts = [...new Set(short.map(({ shift }) => shift))]
    if (shifts.length === 0) return []
    const hours = short.reduce((sum, { from, to }) => sum + to - from, 0) / 3600
    const names = shifts.map(shift => quoted(shift ?? ''))
    const there = shifts.length === 1 ? most(shifts[0]) : 'fewer'
    const found = `${people}, with ${there} in shift ${wordList(names, 'and')}`
    const expected = `at most as many as a crew for ${quoted(skill)} has in each shift`
    const hint = `in ${formatNumber(hours)} h of the week ${waits} until a shift has enough`
    return [problemAt(path, found, expected, hint)]
  })
}

/** Shifts in which nobody has a skill that may be asked for in them: one warning for each skill, whatever asks for it. */
function warnOfEmptyShifts(line: Line, route: readonly Place[]): Problem[] {
  const mostWith = mostHeads(line)
  const week = weekOf(line.calendar)
  const asks = asksOf(line, route)
  return [...new Set(asks.map(({ skill }) => skill))].flatMap(skill => {
    if (mostWith(skill) === 0) return []
    const empty = week.filter(({ shift }) => ableCrews(line, skill).every(crew => headsIn(crew, shift) === 0))
    const asked = asks.filter(
      ask => ask.skill === skill && mayAskIn(ask, empty) && !worksOnThrough(ask, longestOf(empty)),
    )
    if (empty.length === 0 || asked.length === 0) return []
    // A tool that can be planned for need not stand.
    const planned = asked.some(({ kind = 'unscheduled', worksOn }) => kind !== 'unscheduled' && !worksOn)
    const names = [...new Set(empty.map(({ shift }) => quoted(shift ?? '')))]
    const hours = empty.reduce((sum, { from, to }) => sum + to - from, 0) / 3600
    const crew = Object.entries(line.crews ?? {}).find(([name, one]) => skillsOf(name, one).includes(skill))
    return problemAt(
      ['crews', { name: crew?.[0] ?? skill }, 'heads'],
      `0 in shift ${wordList(names, 'and')}`,
      `somebody for ${quoted(skill)} in each shift`,
      `in ${formatNumber(hours)} h of the week nobody comes, and what needs them waits until a shift has somebody${planned ? '; with waits until "people come" planned work lets the tool work on' : ''}`,
    )
  })
}

/** The longest time in one piece of spans of the week, in order; one over its end goes on at its start [s]. */
function longestOf(spans: readonly Span[]): number {
  let longest = 0
  let from = Number.NaN
  let end = Number.NaN
  for (const span of [...spans, ...spans.map(({ from, to }) => ({ from: from + WEEK, to: to + WEEK }))]) {
    if (span.from !== end) from = span.from
    end = span.to
    longest = Math.max(longest, end - from)
  }
  return Math.min(longest, WEEK)
}

/** The tool works on until people come, for as long as nobody is there at a time. */
function worksOnThrough({ worksOn }: Asks, absent: number): boolean {
  return (
    worksOn !== undefined && worksOn.until === 'people come' && quantity('time', worksOn.atMost) >= absent
  )
}

/** Planned work comes at its own times, anything else at any. */
function mayAskIn({ at }: Asks, spans: readonly Span[]): boolean {
  return (
    at === undefined || clockTimes(at).some(time => spans.some(({ from, to }) => from <= time && time < to))
  )
}

/** Crews that share skills, directly or by way of others, are taken together. */
function warnOfCrewLoad({ crews = {}, calendar }: Line, work: Work): Problem[] {
  const left = new Map(Object.entries(crews).map(([name, crew]) => [name, skillsOf(name, crew)] as const))
  const warnings: Problem[] = []
  while (left.size > 0) {
    const { names, skills } = takeTogether(left)
    const busy = skills.reduce((sum, skill) => sum + (work.get(skill) ?? 0), 0)
    const heads = names.reduce((sum, name) => sum + meanHeads(crews[name], calendar), 0)
    // Where no good cell is left, nothing can be said of work per cell.
    if (!(busy > heads) || !Number.isFinite(busy) || heads === 0) continue
    const who = names.length === 1 ? '' : ` of ${wordList(names.map(quoted), 'and')} together`
    warnings.push(
      problemAt(
        ['crews', { name: names[0] }, 'heads'],
        `${formatNumber(heads)} on average${who}`,
        `at least ${Math.ceil(busy)}`,
        `what is asked of them would take ${percent(busy / heads)} of their time, so tools must wait for them`,
      ),
    )
  }
  return warnings
}

/** Takes out the first crew and all that are tied to it by skills. */
function takeTogether(left: Map<string, readonly string[]>): { names: string[]; skills: string[] } {
  const names: string[] = []
  const skills = new Set<string>()
  let next = left.keys().next().value
  while (next !== undefined) {
    names.push(next)
    for (const skill of left.get(next) ?? []) skills.add(skill)
    left.delete(next)
    next = [...left].find(([, own]) => own.some(skill => skills.has(skill)))?.[0]
  }
  return { names, skills: [...skills] }
}

function warnOfFleetLoad({ fleets = {} }: Line, work: Work): Problem[] {
  return Object.entries(fleets).flatMap(([name, { number }]) => {
    const busy = work.get(name) ?? 0
    if (busy <= number) return []
    const hint = `its trips would take ${percent(busy / number)} of its time, so carriers must wait`
    return [problemAt(['fleets', { name }, 'number'], String(number), `at least ${Math.ceil(busy)}`, hint)]
  })
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`
}
