import { formatLike, formatNumber, formatQuantity, parseQuantity } from '../../base/quantity.ts'
import { neverServed } from '../../line/asks.ts'
import { outlineOf } from '../../line/outline.ts'
import type { Line } from '../../line/types.ts'
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
  /** What nobody can ever come to with this value: its tools stay down. */
  readonly neverServed: readonly string[]
}

export interface CurveStudy extends StudyHead {
  readonly window: WindowHours
  readonly vary: string
  readonly unit: Varied['unit']
  readonly now: number
  readonly nowLabel: string
  readonly goodPerHour: Estimate
  readonly points: readonly CurvePoint[]
  /**
   * The value with the highest output, that of the line as it is among them, and those that these runs do not tell
   * from it, by paired differences that hold together.
   */
  readonly highest: {
    readonly label: string
    readonly goodPerHour: Estimate
    readonly notToldApart: readonly string[]
  }
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
  const [base, ...others] = courses
  const cut = commonCut([base])
  const level = bonferroniLevel(options.level, Math.max(1, values.length))
  return {
    ...headOf(line, options),
    window: windowOf(base, cut),
    vary: varied.what,
    unit: varied.unit,
    now: varied.now,
    nowLabel: varied.nowText ?? labelOf(varied, varied.now),
    goodPerHour: estimateWithin(goodOf(base, cut), options.level, resolutionOf(cut, [base])),
    points: values.map((value, v) => {
      // Each against now over the window that both need: a value that ruins the line must not shorten that of the others.
      const own = commonCut([base, others[v]])
      const good = goodOf(others[v], own)
      const gainPerHour = pairedDifference(
        good,
        goodOf(base, own),
        level,
        resolutionOf(own, [others[v]], [base]),
      )
      const design = designs[v + 1].line
      return {
        value,
        label: labelOf(varied, value),
        goodPerHour: estimateWithin(good, options.level, resolutionOf(own, [others[v]])),
        gainPerHour,
        verdict: shown(gainPerHour),
        neverServed: neverServed(design, outlineOf(design.route)).map(({ name }) => name),
      }
    }),
    highest: highestOf(tried(varied, values, base, others), options.level),
  }
}

interface Tried {
  readonly label: string
  readonly courses: readonly Course[]
}

/** The values of the curve, and that of the line as it is where it is none of them. */
function tried(varied: Varied, values: readonly number[], base: Course[], others: Course[][]): Tried[] {
  const now = varied.nowText ?? labelOf(varied, varied.now)
  return [
    ...values.map((value, v) => ({ label: labelOf(varied, value), courses: others[v] })),
    ...(values.includes(varied.now) ? [] : [{ label: now, courses: base }]),
  ]
}

function highestOf(all: readonly Tried[], level: number): CurveStudy['highest'] {
  const good = (courses: readonly Course[]) => goodOf(courses, commonCut([courses]))
  const [best, ...others] = [...all].sort((a, b) => mean(good(b.courses)) - mean(good(a.courses)))
  const apart = bonferroniLevel(level, Math.max(1, others.length))
  const alike = all.filter(({ courses }) => {
    if (courses === best.courses) return false
    const cut = commonCut([best.courses, courses])
    const difference = pairedDifference(
      goodOf(best.courses, cut),
      goodOf(courses, cut),
      apart,
      resolutionOf(cut, [best.courses], [courses]),
    )
    return shown(difference) !== 'more'
  })
  const cut = commonCut([best.courses])
  return {
    label: best.label,
    goodPerHour: estimateWithin(good(best.courses), level, resolutionOf(cut, [best.courses])),
    notToldApart: alike.map(({ label }) => label),
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
