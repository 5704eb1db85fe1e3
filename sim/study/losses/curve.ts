import { isPlainObject } from '../../base/plain.ts'
import { formatNumber, formatQuantity, parseQuantity } from '../../base/quantity.ts'
import type { Time } from '../../base/units.ts'
import type { Spread } from '../../chance/spec.ts'
import { meanCount, meanTime } from '../../line/means.ts'
import type { Line, Stop } from '../../line/types.ts'
import { bonferroniLevel } from '../../stats/bonferroni.ts'
import { type Estimate, estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import { scaleTimes, stepsOf, withHeads, withStop } from '../designs/changes.ts'
import { outputOf } from '../designs/course.ts'
import {
  commonCut,
  type DesignOptions,
  headOf,
  type Means,
  type StudyHead,
  simulate,
} from '../designs/designs.ts'
import { type WindowHours, windowOf } from '../designs/window.ts'

/** What a curve is drawn over: a mean of a stop, or the heads of a crew. */
export interface Varied {
  /** As it was asked for: `stop jam: lasts`. */
  readonly what: string
  /** What its values are: seconds, a number of wafers or loads, or heads. */
  readonly unit: 's' | 'wafers or loads' | 'heads'
  /** As the line has it; the mean of its distribution. */
  readonly now: number
  /** The line with this value instead, the shape of its distribution as before. */
  readonly at: (value: number) => Line
}

export interface CurvePoint {
  readonly value: number
  /** The value as it would stand in a scenario. */
  readonly label: string
  readonly goodPerHour: Estimate
  /** Against the line as it is. The intervals of all points hold together. */
  readonly gainPerHour: Estimate
}

export interface CurveStudy extends StudyHead {
  readonly window: WindowHours
  readonly vary: string
  readonly unit: Varied['unit']
  readonly now: number
  readonly nowLabel: string
  readonly goodPerHour: Estimate
  readonly points: readonly CurvePoint[]
}

/** Output over one quantity of the line, on common random streams. */
export async function curveStudy(
  line: Line,
  varied: Varied,
  values: readonly number[],
  options: DesignOptions,
  means: Means,
): Promise<CurveStudy> {
  const designs = [
    { name: line.line, line },
    ...values.map(value => ({ name: `${varied.what} ${labelOf(varied, value)}`, line: varied.at(value) })),
  ]
  const courses = await simulate(designs, options, means)
  const cut = commonCut(courses)
  const good = courses.map(replications => replications.map(course => outputOf(course, cut).goodPerHour))
  const [base, ...others] = good
  const level = bonferroniLevel(options.level, Math.max(1, values.length))
  return {
    ...headOf(line, options),
    window: windowOf(courses[0][0], cut),
    vary: varied.what,
    unit: varied.unit,
    now: varied.now,
    nowLabel: labelOf(varied, varied.now),
    goodPerHour: estimate(base, options.level),
    points: values.map((value, v) => ({
      value,
      label: labelOf(varied, value),
      goodPerHour: estimate(others[v], options.level),
      gainPerHour: pairedDifference(others[v], base, level),
    })),
  }
}

function labelOf({ unit }: Pick<Varied, 'unit'>, value: number): string {
  return unit === 's' ? formatQuantity('time', value) : formatNumber(value)
}

/**
 * Finds what `--vary` names: `stop NAME: lasts`, `stop NAME: every` (in all steps that have
 * it, or in one with `STEP: stop NAME: lasts`), or `crew NAME: heads`.
 *
 * @returns a text that says what is wrong with it otherwise
 */
export function variedOf(line: Line, what: string): Varied | string {
  const crew = /^crew (.+): heads$/.exec(what)
  if (crew) return headsVaried(line, what, crew[1])
  const stop = /^(?:(.+): )?stop (.+): (lasts|every)$/.exec(what)
  if (!stop) return 'something such as "stop jam: lasts", "stop jam: every" or "crew technicians: heads"'
  return stopVaried(line, what, stop[1], stop[2], stop[3] as 'lasts' | 'every')
}

function headsVaried(line: Line, what: string, name: string): Varied | string {
  const crew = line.crews?.[name]
  if (!crew) return `a crew of the line: ${Object.keys(line.crews ?? {}).join(', ') || 'it has none'}`
  const now = typeof crew.heads === 'number' ? crew.heads : Math.max(...Object.values(crew.heads))
  return { what, unit: 'heads', now, at: value => withHeads(line, name, () => Math.round(value)) }
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
  if (found.length === 0) return `a stop of the line${only === undefined ? '' : ` in step "${only}"`}`
  const first = found[0].stop
  if (first[key] === undefined) return `a stop that has "${key}"`
  const counted = key === 'every' && (first.counts === 'wafers' || first.counts === 'loads')
  const now = meanOf(first, key)
  return {
    what,
    unit: counted ? 'wafers or loads' : 's',
    now,
    at: value =>
      found.reduce(
        (made, { step, stop }) => withStop(made, step, name, { [key]: withMean(stop, key, value) }),
        line,
      ),
  }
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

/** Reads an end of the curve: a time for what lasts, a number otherwise; undefined when it is neither. */
export function readValue({ unit }: Pick<Varied, 'unit'>, text: string): number | undefined {
  if (unit === 's') {
    const time = parseQuantity('time', text)
    return typeof time === 'number' && time > 0 ? time : undefined
  }
  const number = Number(text)
  return Number.isInteger(number) && number > 0 ? number : undefined
}

/** Values from one end to the other, evenly spaced; whole ones where only whole ones make sense. */
export function spacedValues(
  { unit }: Pick<Varied, 'unit'>,
  from: number,
  to: number,
  points: number,
): number[] {
  const values = Array.from({ length: points }, (_, i) => from + ((to - from) * i) / Math.max(1, points - 1))
  return unit === 's' ? values : [...new Set(values.map(Math.round))]
}
