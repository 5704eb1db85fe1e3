import { nearest } from '../../base/nearest.ts'
import { isPlainObject } from '../../base/plain.ts'
import { quoted, wordList } from '../../base/problems.ts'
import { formatNumber, formatQuantity } from '../../base/quantity.ts'
import type { Time } from '../../base/units.ts'
import type { Spread } from '../../chance/spec.ts'
import { meanCount, meanTime } from '../../line/means.ts'
import type { Line, Stop } from '../../line/types.ts'
import { scaleTimes, stepsOf, withHeads, withStop } from '../designs/changes.ts'
import type { Varied } from './curve.ts'
import { itemVaried } from './varied-items.ts'

/**
 * Finds what `--vary` names: `stop NAME: lasts`, `stop NAME: every` (in all steps that have
 * it, when it is the same in all; in one with `STEP: stop NAME: lasts`), or `crew NAME: heads`
 * (the same number in every shift that has any); or a number of an item, see `itemVaried`.
 *
 * @returns a text that says what is wrong with it otherwise
 */
export function variedOf(line: Line, what: string): Varied | string {
  const crew = /^crew (.+): heads$/.exec(what)
  if (crew) return headsVaried(line, what, crew[1])
  const stop = /^(?:(.+): )?stop (.+): (lasts|every)$/.exec(what)
  if (!stop) return itemVaried(line, what)
  return stopVaried(line, what, stop[1], stop[2], stop[3] as 'lasts' | 'every')
}

function headsVaried(line: Line, what: string, name: string): Varied | string {
  const crew = line.crews?.[name]
  if (!crew) return `a crew of the line: ${Object.keys(line.crews ?? {}).join(', ') || 'it has none'}`
  const { heads } = crew
  const at = (value: number) => withHeads(line, name, () => Math.round(value))
  if (typeof heads === 'number') return { what, unit: 'heads', now: heads, at }
  const nowText = Object.entries(heads)
    .map(([shift, n]) => `${shift} ${n}`)
    .join(', ')
  return { what, unit: 'heads', now: Math.max(...Object.values(heads)), nowText, at }
}

function stopVaried(
  line: Line,
  what: string,
  only: string | undefined,
  name: string,
  key: 'lasts' | 'every',
): Varied | string {
  const found = stepsOf(line).flatMap(({ step, stops = [] }) =>
    stops.filter(({ stop }) => stop === name && (only ?? step) === step).map(stop => ({ step, stop })),
  )
  if (found.length === 0) return unknownStop(line, only, name, key)
  const first = found[0].stop
  if (found.some(({ stop }) => stop[key] === undefined)) return `a stop that has "${key}"`
  const told = new Set(found.map(({ stop }) => JSON.stringify([stop[key], stop.counts])))
  if (told.size > 1) {
    const each = found.map(({ step }) => `"${step}: stop ${name}: ${key}"`)
    return `${wordList(each, 'or')}, since it is not the same in all of them`
  }
  const counted = key === 'every' && (first.counts === 'wafers' || first.counts === 'loads')
  const now = meanOf(first, key)
  const steps = wordList(
    found.map(({ step }) => quoted(step)),
    'and',
  )
  return {
    what,
    unit: counted ? 'wafers or loads' : 's',
    now,
    ...(found.length > 1 && {
      nowText: `${counted ? formatNumber(now) : formatQuantity('time', now)} at ${steps}, varied together`,
    }),
    at: value =>
      found.reduce(
        (made, { step, stop }) => withStop(made, step, name, { [key]: withMean(stop, key, value) }),
        line,
      ),
  }
}

function unknownStop(line: Line, only: string | undefined, name: string, key: string): string {
  const all = stepsOf(line).flatMap(({ step, stops = [] }) => stops.map(({ stop }) => ({ step, stop })))
  const known = [...new Set(all.filter(({ step }) => (only ?? step) === step).map(({ stop }) => stop))]
  const near = nearest(name, known)
  const prefix = only === undefined ? '' : `${only}: `
  if (near !== undefined) return `a stop of the line; did you mean "${prefix}stop ${near}: ${key}"?`
  const where = only === undefined ? '' : ` in step "${only}"`
  return `a stop of the line${where}: ${known.length === 0 ? 'there is none' : wordList(known.map(quoted), 'or')}`
}

function meanOf(stop: Stop, key: 'lasts' | 'every'): number {
  const spread = stop[key]
  return isCount(stop, key) ? meanCount(spread as Spread<number>) : meanTime(spread as Spread<Time>)
}

function isCount({ counts }: Stop, key: 'lasts' | 'every'): boolean {
  return key === 'every' && (counts === 'wafers' || counts === 'loads')
}

/** The distribution of the stop with another mean, its shape kept. */
function withMean(stop: Stop, key: 'lasts' | 'every', value: number): unknown {
  const factor = value / meanOf(stop, key)
  return isCount(stop, key) ? scaleCounts(stop[key], factor) : scaleTimes(stop[key], factor)
}

/** Keys of a distribution that are no count of pieces. */
const SHAPES = ['cv', 'shape']

function scaleCounts(value: unknown, factor: number): unknown {
  if (typeof value === 'number') return Math.max(1, Math.round(value * factor))
  if (Array.isArray(value)) return value.map(part => scaleCounts(part, factor))
  if (!isPlainObject(value)) return value
  return Object.fromEntries(
    Object.entries(value).map(([key, part]) => [
      key,
      SHAPES.includes(key) ? part : scaleCounts(part, factor),
    ]),
  )
}
