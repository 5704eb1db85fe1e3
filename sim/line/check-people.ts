import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { shiftNames, unknownShift } from './check-calendar.ts'
import { allPlaces, type Place } from './outline.ts'

type Fields = Readonly<Record<string, unknown>>

/**
 * People and vehicles: whether those that are asked for are there. Names count, whatever
 * else is wrong with a crew or a fleet, so that one mistake is said once.
 */
export function checkPeople(line: Fields, route: readonly Place[]): Problem[] {
  const crews = fieldsOf(line.crews)
  const fleets = Object.keys(fieldsOf(line.fleets))
  const skills = [...new Set(Object.entries(crews).flatMap(([name, crew]) => skillsOf(name, crew)))]
  const asked = [...asksOfBins(line.bins), ...allPlaces(route).flatMap(place => asksOf(place))]
  return [
    ...Object.entries(crews).flatMap(([name, crew]) =>
      checkCrew(crew, ['crews', { name }], shiftNames(line)),
    ),
    ...checkFleets(fleets, skills),
    ...asked.flatMap(ask => checkAsk(ask, skills, fleets)),
  ]
}

function fieldsOf(value: unknown): Fields {
  return isPlainObject(value) ? value : {}
}

/** What a crew can do: its skills, or what its name says. */
function skillsOf(name: string, crew: unknown): readonly string[] {
  const given = fieldsOf(crew).skills
  return Array.isArray(given) ? given.filter(skill => typeof skill === 'string') : [name]
}

function checkCrew(crew: unknown, path: Path, shifts: readonly string[] | undefined): Problem[] {
  const { heads, skills } = fieldsOf(crew)
  const problems: Problem[] = []
  if (isPlainObject(heads)) {
    if (Object.keys(heads).length === 0)
      problems.push(problemAt([...path, 'heads'], 'an empty object', 'a number, or one for a shift'))
    for (const shift of Object.keys(heads)) {
      if (shifts?.includes(shift)) continue
      const near = nearest(shift, shifts ?? [])
      const hint = near === undefined ? undefined : `did you mean "${near}"?`
      problems.push(
        problemAt([...path, 'heads', quoted(shift)], 'an unknown shift', unknownShift(shifts), hint),
      )
    }
  }
  if (!Array.isArray(skills)) return problems
  if (skills.length === 0)
    problems.push(
      problemAt(
        [...path, 'skills'],
        'an empty list',
        'at least one skill',
        'without skills, its name is its skill',
      ),
    )
  skills.forEach((skill, index) => {
    if (skills.indexOf(skill) < index)
      problems.push(problemAt([...path, 'skills', index], quoted(String(skill)), 'each skill once'))
  })
  return problems
}

/** Carriers are moved by a skill or a fleet: a name must say which. */
function checkFleets(fleets: readonly string[], skills: readonly string[]): Problem[] {
  return fleets
    .filter(fleet => skills.includes(fleet))
    .map(fleet =>
      problemAt(['fleets', { name: fleet }], quoted(fleet), 'a name of its own', 'it is a skill of a crew'),
    )
}

/** Where people or vehicles are asked for by name. */
interface Ask {
  readonly name: string
  readonly path: Path
  readonly of: 'skill' | 'skill or fleet'
}

function asksOfBins(bins: unknown): readonly Ask[] {
  const { skill } = fieldsOf(fieldsOf(fieldsOf(bins).boxes).swap)
  return typeof skill === 'string'
    ? [{ name: skill, path: ['bins', 'boxes', 'swap', 'skill'], of: 'skill' }]
    : []
}

function asksOf({ item, path }: Place): readonly Ask[] {
  if (!item) return []
  if ('carriers' in item)
    return item.moved.by === undefined
      ? []
      : [{ name: item.moved.by, path: [...path, 'moved', 'by'], of: 'skill or fleet' }]
  if (!('step' in item)) return []
  const clearing = typeof item.breakage === 'object' ? item.breakage.clearing?.skill : undefined
  const ofClearing =
    clearing === undefined
      ? []
      : [{ name: clearing, path: [...path, 'breakage', 'clearing', 'skill'], of: 'skill' as const }]
  const ofStops = (item.stops ?? []).flatMap(({ stop, skill }, index) =>
    skill === undefined
      ? []
      : [{ name: skill, path: [...path, 'stops', index, { name: stop }, 'skill'], of: 'skill' as const }],
  )
  return [...ofClearing, ...ofStops]
}

function checkAsk({ name, path, of }: Ask, skills: readonly string[], fleets: readonly string[]): Problem[] {
  const allowed = of === 'skill' ? skills : [...skills, ...fleets]
  if (allowed.includes(name)) return []
  const what = of === 'skill' ? 'a skill of a crew' : 'a skill of a crew, or a fleet'
  const expected =
    allowed.length === 0 ? `${what}, but there is none` : `${what}: ${wordList(allowed.map(quoted), 'or')}`
  return [problemAt(path, quoted(name), expected, whyNot(name, of, skills, fleets))]
}

function whyNot(
  name: string,
  of: Ask['of'],
  skills: readonly string[],
  fleets: readonly string[],
): string | undefined {
  if (fleets.includes(name)) return `${quoted(name)} is a fleet; stops are served by people`
  const near = nearest(name, of === 'skill' ? skills : [...skills, ...fleets])
  return near === undefined ? undefined : `did you mean "${near}"?`
}
