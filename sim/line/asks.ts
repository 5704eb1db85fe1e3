import { type Path, quoted } from '../base/problems.ts'
import { headsAt } from './calendar.ts'
import { allPlaces, type Place } from './outline.ts'
import { skillsOf } from './presence.ts'
import type { Crew, Line, Stop } from './types.ts'

/** Something that needs more people than any crew with the skill ever has: it is never served. */
export interface NeverServed {
  /** In words: `stop "jam" at print`. */
  readonly name: string
  readonly path: Path
  readonly skill: string
  readonly people: number
  /** As many as such a crew ever has. */
  readonly most: number
  /** What comes of it. */
  readonly then: string
}

/** All that the people of the line can never come to. */
export function neverServed(line: Line, route: readonly Place[]): NeverServed[] {
  const mostWith = mostHeads(line)
  return asksOf(line, route).flatMap(({ skill, people, name, path, then }) => {
    const most = mostWith(skill)
    return people <= most ? [] : [{ name, path, then, skill, people, most }]
  })
}

export function asksOf(line: Line, route: readonly Place[]): (Asks & { skill: string; people: number })[] {
  return [...asksOfBoxes(line), ...asksOfSteps(route)].flatMap(asks =>
    asks.skill === undefined ? [] : [{ ...asks, skill: asks.skill, people: asks.people ?? 1 }],
  )
}

/** `waits`: what comes of it while it is not served, in words. */
export type Asks = Pick<Stop, 'skill' | 'people' | 'at' | 'kind'> &
  Pick<NeverServed, 'name' | 'path' | 'then'> & { waits: string; worksOn?: Stop['waits'] }

function asksOfBoxes({ bins }: Line): Asks[] {
  const swap = bins?.boxes?.swap
  const path = ['bins', 'boxes', 'swap', 'people']
  const then = 'full boxes stay for ever'
  return swap ? [{ ...swap, name: 'swap of full boxes', path, then, waits: 'full boxes stay' }] : []
}

function asksOfSteps(route: readonly Place[]): Asks[] {
  const then = 'the tool stays down for ever'
  const waits = 'the tool stays down'
  return allPlaces(route).flatMap(({ item, path }) => {
    if (!item || !('step' in item)) return []
    const clearing = typeof item.breakage === 'object' ? item.breakage.clearing : undefined
    const stops = (item.stops ?? []).map((stop, index) => ({
      ...stop,
      ...(stop.waits && { worksOn: stop.waits }),
      name: `stop ${quoted(stop.stop)} at ${item.step}`,
      path: [...path, 'stops', index, { name: stop.stop }, 'people'],
      then,
      waits,
    }))
    const clearingPath = [...path, 'breakage', 'clearing', 'people']
    const cleared = { ...clearing, name: `clearing at ${item.step}`, path: clearingPath, then, waits }
    return clearing ? [cleared, ...stops] : stops
  })
}

/** By skill, the most people that one crew with it ever has: those who go together are of one crew. Each crew's week is gone through once. */
export function mostHeads(line: Line): (skill: string) => number {
  const known = new Map<Crew, number>()
  const mostOf = (crew: Crew): number => {
    const most = known.get(crew) ?? Math.max(0, ...headsAt(crew, line.calendar).map(({ heads }) => heads))
    known.set(crew, most)
    return most
  }
  return skill => Math.max(0, ...ableCrews(line, skill).map(mostOf))
}

export function ableCrews({ crews = {} }: Line, skill: string): Crew[] {
  return Object.entries(crews).flatMap(([name, crew]) => (skillsOf(name, crew).includes(skill) ? [crew] : []))
}
