import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { foundText, keyText, type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { allPlaces, type Place } from './outline.ts'
import { ITEM_FIELDS, type ItemKind, STOP_FIELDS } from './schema.ts'
import { judgeName } from './schema-parts.ts'
import { CREW_FIELDS, EVENT_FIELDS, FLEET_FIELDS } from './schema-people.ts'

type Fields = Readonly<Record<string, unknown>>

/** What a variant may change of the line itself. */
export const LINE_FIELDS: readonly string[] = [
  ...['feed', 'wafer', 'bins', 'target'],
  ...['calendar', 'crews', 'fleets', 'events', 'cap'],
]

/** What a variant may say of an item. */
const EXAMPLES: Readonly<Record<ItemKind, string>> = {
  step: '{ tools: 4 }',
  buffer: '{ capacity: 500 }',
  conveyor: '{ capacity: 50 }',
  carriers: '{ number: 60 }',
  group: '{ split: "in turn" }',
}

/** Whether variants name items and keys that there are. Whether the changed line is right is for checkLine to find out. */
export function checkVariants(line: Fields, route: readonly Place[]): Problem[] {
  const { variants } = line
  if (variants === undefined) return []
  if (!isPlainObject(variants))
    return [
      problemAt(
        ['variants'],
        foundText(variants),
        'an object such as { "more printers": { "front print": { tools: 4 } } }',
      ),
    ]
  const places = new Map(allPlaces(route).map(place => [place.name, place]))
  return Object.entries(variants).flatMap(([name, changes]) => checkVariant(name, changes, line, places))
}

function checkVariant(
  name: string,
  changes: unknown,
  line: Fields,
  places: ReadonlyMap<string | undefined, Place>,
): Problem[] {
  const path = ['variants', { name }]
  const fault = judgeName(name)
  if (fault) return [problemAt(['variants'], quoted(name), fault.expected)]
  if (!isPlainObject(changes))
    return [problemAt(path, foundText(changes), 'an object such as { "front print": { tools: 4 } }')]
  return Object.entries(changes).flatMap(([item, fields]) => {
    const itemPath = [...path, quoted(item)]
    if (item === 'line') return checkLineChanges(fields, itemPath, line)
    const place = places.get(item)
    return place ? checkItem(place, fields, itemPath) : [unknownItem(item, itemPath, places)]
  })
}

/** Crews, fleets and events are changed by their names. */
function checkLineChanges(fields: unknown, path: Path, line: Fields): Problem[] {
  const problems = checkFields(fields, path, LINE_FIELDS, '{ target: "3600 wafers/h" }')
  if (!isPlainObject(fields)) return problems
  const crews = isPlainObject(line.crews) ? Object.keys(line.crews) : []
  const fleets = isPlainObject(line.fleets) ? Object.keys(line.fleets) : []
  const events = Array.isArray(line.events) ? line.events.map(event => String(event?.event)) : []
  if (isPlainObject(fields.events))
    problems.push(
      ...checkNamedParts(events, fields.events, [...path, 'events'], {
        known: EVENT_FIELDS,
        example: '{ lasts: "1 h" }',
        without: 'a line that has events',
        add: 'to add an event, give all events as a list',
      }),
    )
  return [
    ...problems,
    ...checkAdded(crews, fields.crews, [...path, 'crews'], CREW_FIELDS, '{ heads: 4 }'),
    ...checkAdded(fleets, fields.fleets, [...path, 'fleets'], FLEET_FIELDS, '{ number: 4 }'),
  ]
}

/** A name that is not there is a new crew or fleet, unless it is near to one that is. */
function checkAdded(
  names: readonly string[],
  changes: unknown,
  path: Path,
  known: readonly string[],
  example: string,
): Problem[] {
  if (!isPlainObject(changes)) return []
  return Object.entries(changes).flatMap(([name, fields]) => {
    const here = [...path, quoted(name)]
    if (names.includes(name)) return fields === null ? [] : checkFields(fields, here, known, example)
    const near = nearest(name, names)
    if (fields !== null && near === undefined) return []
    const hint = near === undefined ? undefined : `did you mean "${near}"?`
    return [
      problemAt(here, 'an unknown name', wordList(names.map(quoted), 'or') || 'a line that has some', hint),
    ]
  })
}

function unknownItem(item: string, path: Path, places: ReadonlyMap<string | undefined, Place>): Problem {
  const names = [...places.keys()].filter(name => name !== undefined)
  const near = nearest(item, [...names, 'line'])
  return problemAt(
    path,
    'an unknown name',
    'the name of a step, buffer, conveyor, carriers or group, or line',
    near && `did you mean "${near}"?`,
  )
}

function checkItem({ kind, item }: Place, fields: unknown, path: Path): Problem[] {
  if (kind === undefined) return []
  if (isPlainObject(fields) && Object.hasOwn(fields, kind))
    return [
      problemAt(
        [...path, kind],
        foundText(fields[kind]),
        'no change of the name',
        'a variant changes what an item does',
      ),
    ]
  const problems = checkFields(fields, path, ITEM_FIELDS[kind], EXAMPLES[kind])
  if (problems.length > 0 || !isPlainObject(fields) || !isPlainObject(fields.stops)) return problems
  return item && 'step' in item
    ? checkNamedParts(
        (item.stops ?? []).map(({ stop }) => stop),
        fields.stops,
        [...path, 'stops'],
        STOPS,
      )
    : []
}

/** How to say what is wrong with parts that are changed by their names. */
interface NamedParts {
  readonly known: readonly string[]
  readonly example: string
  readonly without: string
  readonly add: string
}

const STOPS: NamedParts = {
  known: STOP_FIELDS,
  example: '{ lasts: "5 min" }',
  without: 'a step that has stops',
  add: 'to add a stop, give all stops as a list',
}

function checkNamedParts(
  names: readonly string[],
  changes: Fields,
  path: Path,
  { known, example, without, add }: NamedParts,
): Problem[] {
  return Object.entries(changes).flatMap(([name, fields]) => {
    const here = [...path, quoted(name)]
    if (names.includes(name)) return fields === null ? [] : checkFields(fields, here, known, example)
    const near = nearest(name, names)
    const allowed = names.length === 0 ? without : wordList(names.map(quoted), 'or')
    return [problemAt(here, 'an unknown name', allowed, near ? `did you mean "${near}"?` : add)]
  })
}

function checkFields(fields: unknown, path: Path, known: readonly string[], example: string): Problem[] {
  if (!isPlainObject(fields)) return [problemAt(path, foundText(fields), `an object such as ${example}`)]
  return Object.keys(fields).flatMap(key => {
    if (known.includes(key)) return []
    const near = nearest(key, known)
    return [
      problemAt(
        [...path, keyText(key)],
        'an unknown key',
        `one of ${known.join(', ')}`,
        near && `did you mean "${near}"?`,
      ),
    ]
  })
}
