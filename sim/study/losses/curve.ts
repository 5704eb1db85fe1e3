import { formatLike, formatNumber, formatQuantity, parseQuantity } from '../../base/quantity.ts'
import { neverServed } from '../../line/asks.ts'
import { outlineOf } from '../../line/outline.ts'
import type { Line } from '../../line/types.ts'
import { compile } from '../../plan/compile.ts'
import { bonferroniLevel } from '../../stats/bonferroni.ts'
import type { Estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import { estimateWithin } from '../../stats/resolution.ts'
import { mean } from '../../stats/summary.ts'
import { type Course, outputOf } from '../designs/course.ts'
import {
  commonCut,
  type DesignOptions,
  headOf,
  type Means,
  type StudyHead,
  simulate,
} from '../designs/designs.ts'
import { marginKnownTo, marginPerYear } from '../designs/pricing.ts'
import { type Shown, shown } from '../designs/verdict.ts'
import { resolutionOf, type WindowHours, windowOf } from '../designs/window.ts'

/** What a curve is drawn over: a mean of a stop, the heads of a crew, or a number of an item. */
export interface Varied {
  /** As it was asked for: `stop jam: lasts`. */
  readonly what: string
  /** What its values are: seconds, a number of something, or the speed in per cent of what it is now. */
  readonly unit:
    | 's'
    | 'wafers or loads'
    | 'heads'
    | 'tools'
    | 'wafers'
    | 'carriers'
    | 'lanes'
    | 'vehicles'
    | '% of now'
  /** As the line has it; the mean of its distribution, the most heads of any shift. */
  readonly now: number
  /** That in words, where the number does not say all. */
  readonly nowText?: string
  /** A time in the unit in which values are to be told; else in the most fitting. */
  readonly like?: string
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
  readonly verdict: Shown
  /** What that brings in money, a year: see `CurveStudy.currency`. These intervals hold together too. */
  readonly cashPerYear?: Estimate
  /** What nobody can ever come to with this value: its tools stay down. */
  readonly neverServed: readonly string[]
}

/** The value with the most of something, and those that these runs do not tell from it, by paired differences that hold together. */
export interface Most {
  readonly label: string
  readonly notToldApart: readonly string[]
}

export interface CurveStudy extends StudyHead {
  readonly window: WindowHours
  readonly vary: string
  readonly unit: Varied['unit']
  readonly now: number
  readonly nowLabel: string
  readonly goodPerHour: Estimate
  readonly points: readonly CurvePoint[]
  /** The value with the highest output, that of the line as it is among them. */
  readonly highest: Most & { readonly goodPerHour: Estimate }
  /**
   * Of a stop of a line that knows money: cells, less wafers, materials, and parts of stops; what it takes to
   * change the stop is not in it. Absent where something is bought or paid by the hour.
   */
  readonly currency?: string
  /** The value that brings the most money. */
  readonly best?: Most
}

/** Output over one quantity of the line, on common random streams. */
export async function curveStudy(
  line: Line,
  varied: Varied,
  values: readonly number[],
  options: DesignOptions,
  means: Means,
): Promise<CurveStudy> {
  const lines = values.map(value => ({ label: labelOf(varied, value), line: varied.at(value) }))
  const designs = lines.map(({ label, line: made }) => ({ name: `${varied.what} ${label}`, line: made }))
  const [base, ...others] = await simulate([{ name: line.line, line }, ...designs], options, means)
  const cut = commonCut([base])
  const levels = {
    each: options.level,
    together: bonferroniLevel(options.level, Math.max(1, values.length)),
  }
  const now = { label: varied.nowText ?? labelOf(varied, varied.now), line, courses: base }
  const made = lines.map((one, v) => ({ ...one, courses: others[v] }))
  // The line as it is, where it is none of the values.
  const all = values.includes(varied.now) ? made : [...made, now]
  const margin = marginOf(line, varied)
  return {
    ...headOf(line, options),
    window: windowOf(base, cut),
    vary: varied.what,
    unit: varied.unit,
    now: varied.now,
    nowLabel: now.label,
    goodPerHour: estimateWithin(goodOf(base, cut), options.level, resolutionOf(cut, [base])),
    points: values.map((value, v) => pointOf(value, made[v], now, levels, margin)),
    highest: highestOf(all, options.level),
    ...(margin && line.money && { currency: line.money.currency, best: bestOf(all, options.level, margin) }),
  }
}

interface Tried {
  readonly label: string
  readonly line: Line
  readonly courses: readonly Course[]
}

/** A value against now over the window that both need: one that ruins the line must not shorten that of the others. */
function pointOf(
  value: number,
  { label, line, courses }: Tried,
  now: Tried,
  levels: { readonly each: number; readonly together: number },
  margin: Margin | undefined,
): CurvePoint {
  const cut = commonCut([now.courses, courses])
  const finest = resolutionOf(cut, [courses], [now.courses])
  const good = goodOf(courses, cut)
  const gainPerHour = pairedDifference(good, goodOf(now.courses, cut), levels.together, finest)
  return {
    value,
    label,
    goodPerHour: estimateWithin(good, levels.each, resolutionOf(cut, [courses])),
    gainPerHour,
    verdict: shown(gainPerHour),
    ...(margin && {
      cashPerYear: pairedDifference(
        margin.perYear({ line, courses }, cut),
        margin.perYear(now, cut),
        levels.together,
        margin.knownTo(now, { line, courses }, cut, finest),
      ),
    }),
    neverServed: neverServed(line, outlineOf(line.route)).map(({ name }) => name),
  }
}

function highestOf(all: readonly Tried[], level: number): CurveStudy['highest'] {
  const best = mostOf(
    all,
    level,
    ({ courses }, cut) => goodOf(courses, cut),
    (_one, _other, _cut, finest) => finest,
  )
  const { courses } = all.find(({ label }) => label === best.label) as Tried
  const cut = commonCut([courses])
  return { ...best, goodPerHour: estimateWithin(goodOf(courses, cut), level, resolutionOf(cut, [courses])) }
}

function bestOf(all: readonly Tried[], level: number, margin: Margin): Most {
  return mostOf(all, level, margin.perYear, margin.knownTo)
}

/**
 * @param figure of each replication, over the window from a cut on
 * @param knownTo by how much a difference of two figures can be off, when their cells can by `finest` [cells/h]
 */
function mostOf(
  all: readonly Tried[],
  level: number,
  figure: (one: Tried, cut: number) => readonly number[],
  knownTo: (one: Tried, other: Tried, cut: number, finest: number) => number,
): Most {
  const whole = (one: Tried) => mean(figure(one, commonCut([one.courses])))
  const [best, ...others] = [...all].sort((a, b) => whole(b) - whole(a))
  const apart = bonferroniLevel(level, Math.max(1, others.length))
  const alike = all.filter(one => {
    if (one === best) return false
    const cut = commonCut([best.courses, one.courses])
    const finest = knownTo(best, one, cut, resolutionOf(cut, [best.courses], [one.courses]))
    return shown(pairedDifference(figure(best, cut), figure(one, cut), apart, finest)) !== 'more'
  })
  return { label: best.label, notToldApart: alike.map(({ label }) => label) }
}

/** What a design of the curve made. */
type Made = Pick<Tried, 'line' | 'courses'>

interface Margin {
  /** Money of a year, of each replication. */
  perYear(one: Made, cut: number): number[]
  /** By how much a difference of two can be off, when their cells can by `finest` [cells/h]. */
  knownTo(one: Made, other: Made, cut: number, finest: number): number
}

/** Undefined where the line knows no money, or what is varied is bought or paid by the hour. */
function marginOf(line: Line, { unit }: Varied): Margin | undefined {
  const { money } = line
  if (money === undefined || !(unit === 's' || unit === 'wafers or loads')) return undefined
  const { steps } = compile(line)
  const priced = ({ line: design, courses }: Made, cut: number) => ({
    ...{ line: design, steps },
    outputs: courses.map(course => outputOf(course, cut)),
  })
  return {
    perYear: (one, cut) => {
      const { line: design, outputs } = priced(one, cut)
      return outputs.map(output => marginPerYear(design, money, steps, output))
    },
    knownTo: (one, other, cut, finest) =>
      marginKnownTo(money, [priced(one, cut), priced(other, cut)], finest),
  }
}

function goodOf(replications: readonly Course[], cut: number): number[] {
  return replications.map(course => outputOf(course, cut).goodPerHour)
}

function labelOf({ unit, like }: Varied, value: number): string {
  if (unit === '% of now') return `${formatNumber(value)} %`
  if (unit !== 's') return formatNumber(value)
  return like === undefined ? formatQuantity('time', value) : formatLike('time', value, like)
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
