import { nearest } from '../../base/nearest.ts'
import type { Line, Money } from '../../line/types.ts'
import { stopsOf } from '../designs/worst-stops.ts'
import { type Change, changesToTry } from './changes.ts'

/**
 * The changes that texts name. A text that is the whole name of changes (`print: tools`,
 * `stop jam: lasts`, `print: stop jam: lasts`, `one more tool of print`) takes those; any other takes
 * all that have it as a part of a name. Capitals do not count.
 *
 * Any stop can be named, not only those that take most time: so what a text takes does not depend on runs.
 */
export function changesNamed(line: Line, money: Money, texts: readonly string[]): Change[] {
  const all = triable(line, money)
  const taken = new Set(texts.flatMap(text => namedBy(all, text)))
  return all.filter(change => taken.has(change))
}

/** A text that names no change, and what could have been meant. */
export interface Unnamed {
  readonly text: string
  readonly near: string | undefined
  /** What every change is called, one list for each kind. */
  readonly known: readonly (readonly string[])[]
}

/** The first text that names nothing which can be tried on a line; undefined when all name something. */
export function unnamedOf(line: Line, money: Money, texts: readonly string[]): Unnamed | undefined {
  const all = triable(line, money)
  const text = texts.find(one => namedBy(all, one).length === 0)
  if (text === undefined) return undefined
  const kinds = [...new Set(all.map(({ kind }) => kind))]
  return {
    text,
    near: nearest(text, all.flatMap(wordsOf)),
    // The same stop may be at several steps.
    known: kinds.map(kind => [...new Set(all.flatMap(one => (one.kind === kind ? [one.called[0]] : [])))]),
  }
}

function triable(line: Line, money: Money): Change[] {
  return changesToTry(line, money, stopsOf(line))
}

function namedBy(changes: readonly Change[], text: string): readonly Change[] {
  const wanted = text.trim().toLowerCase()
  const names = ({ name, called }: Change) => [name, ...called].map(one => one.toLowerCase())
  const whole = changes.filter(change => names(change).includes(wanted))
  return whole.length > 0 ? whole : changes.filter(change => names(change).some(one => one.includes(wanted)))
}

/** All that a slip may have been meant for: the names of a change, and that of the thing alone. */
function wordsOf({ name, called }: Change): string[] {
  const things = called.map(one => one.replace(/: [^:]*$/, '').replace(/^(stop|crew|variant) /, ''))
  return [...called, name, ...things]
}
