import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { allPlaces, type Place } from './outline.ts'
import type { Item, Step } from './types.ts'

type Fields = Readonly<Record<string, unknown>>

/** What the line says of steps by their names, outside the route: its cap and its events. */
export function checkNamed(line: Fields, route: readonly Place[]): Problem[] {
  const until = isPlainObject(line.cap) ? line.cap.until : undefined
  const cap = typeof until === 'string' ? checkStepName(until, ['cap', 'until'], route) : []
  const events = Array.isArray(line.events) ? line.events.filter(isPlainObject) : []
  return [
    ...cap,
    ...checkCap(line.cap, route),
    ...events.flatMap((event, index) => checkEvent(event, index, events, route)),
  ]
}

/** A load, or a carrier that goes full only, that the cap never lets come together holds the line for ever. */
function checkCap(cap: unknown, route: readonly Place[]): Problem[] {
  if (!isPlainObject(cap) || !Number.isInteger(cap.wafers)) return []
  const places = allPlaces(route)
  const until = places.findIndex(({ name }) => name !== undefined && name === cap.until)
  return (until < 0 ? places : places.slice(0, until + 1)).flatMap(({ item, name = '' }) => {
    const needs = item ? gathered(item) : 0
    if (needs <= (cap.wafers as number)) return []
    return [
      problemAt(
        ['cap', 'wafers'],
        String(cap.wafers),
        `at least ${needs}`,
        `${quoted(name)} waits for so many`,
      ),
    ]
  })
}

/** Wafers that must come together at an item before they can go on. */
export function gathered(item: Item): number {
  if ('carriers' in item) return item.longestWait === undefined ? item.holds : 0
  return 'step' in item && item.batch ? (item.batch.least ?? item.batch.load) : 0
}

function checkEvent(
  event: Fields,
  index: number,
  all: readonly Fields[],
  route: readonly Place[],
): Problem[] {
  const name = typeof event.event === 'string' ? event.event : ''
  const path: Path = ['events', index, ...(name === '' ? [] : [{ name }])]
  const problems: Problem[] = []
  const first = all.findIndex(other => other.event === event.event)
  if (name !== '' && first < index)
    problems.push(problemAt([...path, 'event'], quoted(name), 'a name of its own', `events[${first}] has it`))
  const steps = event.steps
  if (Array.isArray(steps)) {
    if (steps.length === 0)
      problems.push(
        problemAt([...path, 'steps'], 'an empty list', 'at least one step; without steps, all are struck'),
      )
    steps.forEach((step, place) => {
      if (typeof step !== 'string') return
      if (steps.indexOf(step) < place)
        problems.push(problemAt([...path, 'steps', place], quoted(step), 'each step once'))
      else problems.push(...checkStepName(step, [...path, 'steps', place], route))
    })
  }
  const struck = allPlaces(route).flatMap(({ item }) =>
    item && 'step' in item && (!Array.isArray(steps) || steps.includes(item.step)) ? [item] : [],
  )
  return [...problems, ...checkStruck(event, path, struck)]
}

/** What becomes of the wafers inside must be possible in every tool that is struck. */
function checkStruck({ event, inside }: Fields, path: Path, struck: readonly Step[]): Problem[] {
  const problems: Problem[] = []
  const wrong =
    inside === 'restart'
      ? struck.find(({ belt }) => belt)
      : inside === 'run out'
        ? struck.find(({ belt }) => !belt)
        : undefined
  if (wrong)
    problems.push(
      problemAt(
        [...path, 'inside'],
        quoted(String(inside)),
        `what ${quoted(wrong.step)} can do too`,
        inside === 'restart'
          ? 'the wafers on a belt cannot begin anew'
          : 'only the wafers on a belt can run out',
      ),
    )
  const named = struck.find(({ stops = [] }) => stops.some(({ stop }) => stop === event))
  if (named)
    problems.push(
      problemAt(
        [...path, 'event'],
        quoted(String(event)),
        'a name of its own',
        `a stop of ${quoted(named.step)} has it, and reports show both`,
      ),
    )
  return problems
}

function checkStepName(name: string, path: Path, route: readonly Place[]): Problem[] {
  const places = allPlaces(route)
  const steps = places.flatMap(place =>
    place.kind === 'step' && place.name !== undefined ? [place.name] : [],
  )
  if (steps.includes(name)) return []
  const other = places.find(place => place.name === name)
  const near = nearest(name, steps)
  const hint = other ? `${quoted(name)} is a ${other.kind}` : near && `did you mean "${near}"?`
  return [problemAt(path, quoted(name), 'the name of a step', hint)]
}
