import { nearest } from '../base/nearest.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import type { Stop } from './types.ts'

/** What is done along with a stop is another stop of the step, one that has a clock. */
export function checkRenews(stops: readonly Stop[], { stop, renews = [] }: Stop, path: Path): Problem[] {
  const names = stops
    .filter(other => other.stop !== stop && other.afterIdle === undefined)
    .map(other => other.stop)
  const expected =
    names.length === 0
      ? 'none: the step has no other stop with a clock'
      : `another stop of this step: ${wordList(names.map(quoted), 'or')}`
  return renews.flatMap((name, index) => {
    if (names.includes(name) && renews.indexOf(name) === index) return []
    return [problemAt([...path, 'renews', index], quoted(name), expected, whyNot(stops, stop, name, names))]
  })
}

function whyNot(
  stops: readonly Stop[],
  self: string,
  name: string,
  names: readonly string[],
): string | undefined {
  if (names.includes(name)) return 'it is named twice'
  if (name === self) return 'its own clock starts anew in any case'
  if (stops.some(({ stop }) => stop === name)) return 'that one comes after idleness, and has no clock'
  const near = nearest(name, names)
  return near && `did you mean "${near}"?`
}

/** A run that begins when one of its stops has just been done cannot begin within an interval of what that one renews. */
export function checkRenewed(stops: readonly Stop[], { stop, first }: Stop, path: Path): Problem[] {
  if (first !== 'at random') return []
  const just = stops.find(
    other => other.renews?.includes(stop) && other.first === undefined && !other.at && !other.afterIdle,
  )
  if (!just) return []
  const name = quoted(just.stop)
  return [
    problemAt(
      [...path, 'first'],
      '"at random"',
      `${name} to have a first of its own, such as "at random" too`,
      `${name} renews it, and its interval begins with the run`,
    ),
  ]
}
