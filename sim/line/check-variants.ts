import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { foundText, keyText, type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { allPlaces, type Place } from './outline.ts'
import { ITEM_FIELDS, type ItemKind, STOP_FIELDS } from './schema.ts'
import { judgeName } from './schema-parts.ts'

/** What a variant may change of the line itself. */
export const LINE_FIELDS: readonly string[] = ['feed', 'wafer', 'bins', 'target']

/** What a variant may say of an item. */
const EXAMPLES: Readonly<Record<ItemKind, string>> = {
  step: '{ tools: 4 }',
  buffer: '{ capacity: 500 }',
  conveyor: '{ capacity: 50 }',
  carriers: '{ number: 60 }',
  group: '{ split: "in turn" }',
}

/** Whether variants name items and keys that there are. Whether the changed line is right is for checkLine to find out. */
export function checkVariants(variants: unknown, route: readonly Place[]): Problem[] {
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
  return Object.entries(variants).flatMap(([name, changes]) => checkVariant(name, changes, places))
}

function checkVariant(
  name: string,
  changes: unknown,
  places: ReadonlyMap<string | undefined, Place>,
): Problem[] {
  const path = ['variants', { name }]
  const fault = judgeName(name)
  if (fault) return [problemAt(['variants'], quoted(name), fault.expected)]
  if (!isPlainObject(changes))
    return [problemAt(path, foundText(changes), 'an object such as { "front print": { tools: 4 } }')]
  return Object.entries(changes).flatMap(([item, fields]) => {
    const itemPath = [...path, quoted(item)]
    if (item === 'line') return checkFields(fields, itemPath, LINE_FIELDS, '{ target: "3600 wafers/h" }')
    const place = places.get(item)
    return place ? checkItem(place, fields, itemPath) : [unknownItem(item, itemPath, places)]
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
    ? checkStops(
        (item.stops ?? []).map(({ stop }) => stop),
        fields.stops,
        [...path, 'stops'],
      )
    : []
}

function checkStops(
  known: readonly string[],
  changes: Readonly<Record<string, unknown>>,
  path: Path,
): Problem[] {
  return Object.entries(changes).flatMap(([stop, fields]) => {
    const stopPath = [...path, quoted(stop)]
    if (known.includes(stop))
      return fields === null ? [] : checkFields(fields, stopPath, STOP_FIELDS, '{ lasts: "5 min" }')
    const near = nearest(stop, known)
    const allowed = known.length === 0 ? 'a step that has stops' : wordList(known.map(quoted), 'or')
    return [
      problemAt(
        stopPath,
        'an unknown name',
        allowed,
        near ? `did you mean "${near}"?` : 'to add a stop, give all stops as a list',
      ),
    ]
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
