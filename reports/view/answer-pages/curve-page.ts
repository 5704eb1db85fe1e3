import type { Line } from '../../../sim/line/types.ts'
import type { Estimate } from '../../../sim/stats/estimate.ts'
import type { CurvePoint, CurveStudy, Most } from '../../../sim/study/losses/curve.ts'
import type { Axis, CourseChart, KeyFigure, Section } from '../page.ts'
import { type ColumnOf, columnsOf, tableOf } from '../table.ts'
import { keyFigure, type PageParts, plainFigure } from './answer-page.ts'
import { outline } from './outline.ts'

const NONE: Estimate = { mean: 0, n: 0 }

/** Charts of `losses --vary`: output, and money where there is any, against one quantity. */
export function curveParts(study: CurveStudy, line: Line): PageParts {
  return {
    figures: [
      keyFigure('Good output', 'cells/h', study.goodPerHour, 'as the line is'),
      plainFigure('Now', '', study.now, study.nowLabel, study.vary),
      ...(study.best === undefined ? endFigures(study) : bestFigures(study, study.best)),
    ],
    picture: outline(line, { marked: stepsVaried(study.vary, line.route), markMeans: 'varied here' }),
    sections: [curve(study, nowOf(study, line)), ...money(study, nowOf(study, line))],
  }
}

function endFigures({ points }: CurveStudy): KeyFigure[] {
  const ends = [points[0], ...(points.length > 1 ? [points[points.length - 1]] : [])]
  return ends.flatMap(end =>
    end === undefined ? [] : [keyFigure(`At ${end.label}`, 'cells/h', end.gainPerHour, 'against now')],
  )
}

/** The value with the most cells, and that with the most money; nothing of the line as it is. */
function bestFigures({ points, highest, currency }: CurveStudy, best: Most): KeyFigure[] {
  const most = points.find(({ label }) => label === highest.label)
  const money = points.find(({ label }) => label === best.label)?.cashPerYear
  return [
    ...(most === undefined
      ? []
      : [keyFigure(`Most cells at ${most.label}`, 'cells/h', most.gainPerHour, 'against now')]),
    ...(money === undefined
      ? []
      : [keyFigure(`Most money at ${best.label}`, `${currency}/yr`, money, 'against now')]),
  ]
}

/** Steps whose stop is varied: the one named, or those that have a stop of that name. */
function stepsVaried(vary: string, route: Line['route']): string[] {
  const found = /^(?:(.+): )?stop (.+): (?:lasts|every)$/.exec(vary)
  if (found === null) return []
  const [, named, stop] = found
  return route.flatMap(item => {
    if ('step' in item) {
      const has = named === undefined ? item.stops?.some(one => one.stop === stop) : item.step === named
      return has ? [item.step] : []
    }
    if (!('group' in item)) return []
    const lanes = Array.isArray(item.lanes) ? [] : Object.values(item.lanes as Record<string, Line['route']>)
    return [item.each ?? [], ...lanes].flatMap(lane => stepsVaried(vary, lane))
  })
}

/** The value that stands for the line as it is; none where a crew has other heads in one shift than in another, as no value of the curve does. */
function nowOf({ vary, unit, now }: CurveStudy, { crews = {} }: Line): number | undefined {
  const heads = unit === 'heads' ? crews[vary.replace(/^crew (.+): heads$/, '$1')]?.heads : undefined
  const present = typeof heads === 'object' ? Object.values(heads).filter(one => one > 0) : []
  return new Set(present).size > 1 ? undefined : now
}

/** @param now where the line as it is stands on the curve, if it does */
function curve(study: CurveStudy, now: number | undefined): Section {
  const columns = columnsOf<CurvePoint>()
  const { vary, points } = study
  return {
    id: 'curve',
    title: `Output against ${vary}`,
    lead: `Good cells an hour with ${othersOf(study)}; now it is ${study.nowLabel}. Whiskers are the interval of each output; differences from now are paired and far surer (see the table). The axis of the output does not start at zero.`,
    chart: chartOf(study, now, 'good output', 'cells/h', point => point.goodPerHour),
    table: tableOf(
      `Output and gain by ${vary}`,
      [
        valueColumn(study),
        columns.estimates('good output', 'cells/h', point => point.goodPerHour, { digits: 2 }),
        columns.estimates('against now', 'cells/h', point => point.gainPerHour, { digits: 2 }),
      ],
      points,
    ),
  }
}

/** What each value brings in money against now, where the line knows money. */
function money(study: CurveStudy, now: number | undefined): Section[] {
  const { currency, vary, points } = study
  if (currency === undefined) return []
  const unit = `${currency}/yr`
  const cash = ({ cashPerYear = NONE }: CurvePoint) => cashPerYear
  const column = columnsOf<CurvePoint>().estimates('cash against now', unit, cash, { digits: 2 })
  return [
    {
      id: 'money',
      title: `Money against ${vary}`,
      lead: 'What the cells of a year bring against now, less wafers, materials and parts of stops. What it takes to change the stop is not in it, nor upkeep, power and wages. Intervals of all values hold together.',
      chart: chartOf(study, now, 'cash', unit, cash),
      table: tableOf(`Money by ${vary}`, [valueColumn(study), column], points),
    },
  ]
}

/** A figure of each value, with its interval. */
function chartOf(
  study: CurveStudy,
  now: number | undefined,
  name: string,
  unit: string,
  of: (point: CurvePoint) => Estimate,
): CourseChart {
  const { vary, points } = study
  const scale = scaleOf(study)
  const figures = points.map(of)
  return {
    kind: 'course',
    form: 'lines',
    title: `${name.charAt(0).toUpperCase()}${name.slice(1)} against ${vary}`,
    x: { label: vary, unit: scale.unit, values: points.map(({ value }) => value / scale.by) },
    y: { label: name, unit },
    from: 'the data',
    series: [{ name, tone: 'productive', values: figures.map(({ mean }) => mean) }],
    ranges: { low: figures.map(({ low }) => low), high: figures.map(({ high }) => high) },
    ...(now !== undefined && { uprights: [{ value: now / scale.by, label: 'now' }] }),
  }
}

function valueColumn(study: CurveStudy): ColumnOf<CurvePoint> {
  const scale = scaleOf(study)
  return columnsOf<CurvePoint>().numbers(study.vary, scale.unit, point => point.value / scale.by)
}

/** What the curve changes, in words: only times and counts of stops have a distribution. */
function othersOf({ unit }: CurveStudy): string {
  if (unit === 'heads') return 'other heads, the same number in every shift that has any'
  const ofStop = unit === 's' || unit === 'wafers or loads'
  return ofStop ? 'other values of it, the shape of its distribution as it is' : 'other values of it'
}

/** The unit in which the values read best. */
function scaleOf({ unit, points }: CurveStudy): Pick<Axis, 'unit'> & { readonly by: number } {
  if (unit !== 's') return { unit, by: 1 }
  const largest = Math.max(...points.map(({ value }) => value))
  if (largest >= 7200) return { unit: 'h', by: 3600 }
  return largest >= 120 ? { unit: 'min', by: 60 } : { unit: 's', by: 1 }
}
