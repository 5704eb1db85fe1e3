import type * as z from 'zod'
import { nearest } from '../base/nearest.ts'
import { foundText, keyText, type Path, type PathPart, type Problem, problemAt } from '../base/problems.ts'
import type { Fault } from './schema-parts.ts'

type Issue = z.core.$ZodIssue

/**
 * What a schema finds wrong with a value, as problems. An unknown key that is near a
 * missing one is one mistake and gives one problem.
 *
 * @param base where the value stands in the file
 */
export function problemsOf(schema: z.ZodType, value: unknown, base: Path): Problem[] {
  const issues = schema.safeParse(value).error?.issues ?? []
  const misspelt = new Set(
    issues.flatMap(issue => (issue.code === 'unrecognized_keys' ? meantKeys(issue) : [])),
  )
  return issues.flatMap(issue => {
    if (issue.code === 'unrecognized_keys') return unknownKeys(issue, value, base)
    const found = valueAt(value, issue.path)
    if (found === undefined && misspelt.has(keyOf(issue.path))) return []
    const fault = 'params' in issue ? (issue.params as unknown as Fault) : undefined
    return problemAt(
      namedPath(value, issue.path, base),
      fault?.found ?? foundText(found),
      issue.message,
      fault?.hint,
    )
  })
}

/** Keys of an object that a schema finds wrong, unknown ones too. */
export function wrongKeys(schema: z.ZodType, value: unknown): readonly string[] {
  const issues = schema.safeParse(value).error?.issues ?? []
  return issues.flatMap(issue =>
    issue.path.length === 0 && issue.code === 'unrecognized_keys' ? issue.keys : [String(issue.path[0])],
  )
}

/** A problem for each key that is not in the language. The message of the issue lists the keys that are. */
function unknownKeys(issue: Issue & { code: 'unrecognized_keys' }, value: unknown, base: Path): Problem[] {
  return issue.keys.map(key => {
    const near = nearest(key, issue.message.split(', '))
    const path = namedPath(value, [...issue.path, key], base)
    return problemAt(path, 'an unknown key', `one of ${issue.message}`, near && `did you mean "${near}"?`)
  })
}

function meantKeys(issue: Issue & { code: 'unrecognized_keys' }): string[] {
  return issue.keys.map(key => keyOf([...issue.path, nearest(key, issue.message.split(', ')) ?? '']))
}

function keyOf(path: readonly PropertyKey[]): string {
  return JSON.stringify(path)
}

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let part = value
  for (const key of path) part = own(part, key)
  return part
}

function own(value: unknown, key: PropertyKey): unknown {
  return typeof value === 'object' && value !== null && Object.hasOwn(value, key)
    ? (value as Record<PropertyKey, unknown>)[key]
    : undefined
}

const NAME_KEYS = ['step', 'buffer', 'conveyor', 'carriers', 'group', 'stop', 'event']

/** The path with the names of items and stops beside their numbers in the list. */
function namedPath(value: unknown, path: readonly PropertyKey[], base: Path): Path {
  const parts: PathPart[] = [...base]
  let part = value
  for (const key of path) {
    part = own(part, key)
    parts.push(typeof key === 'number' ? key : keyText(String(key)))
    if (typeof key === 'number') parts.push(...nameOf(part))
  }
  return parts
}

/** The name of an item or a stop as a path part, when it has one. */
export function nameOf(value: unknown): PathPart[] {
  for (const key of NAME_KEYS) {
    const name = own(value, key)
    if (typeof name === 'string') return [{ name }]
  }
  return []
}
