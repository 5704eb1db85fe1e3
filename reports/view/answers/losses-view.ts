import type { Estimate } from '../../../sim/stats/estimate.ts'
import { shown } from '../../../sim/study/designs/verdict.ts'
import type { CurveStudy } from '../../../sim/study/losses/curve.ts'
import type { Loss, LossesStudy } from '../../../sim/study/losses/losses.ts'
import { PLANNED_WORK } from '../cautions.ts'
import { daysText, figure, grouped } from '../format.ts'
import {
  type AnswerColumn,
  type AnswerContext,
  type AnswerTable,
  type AnswerView,
  answer,
  basisOf,
  fillingWarnings,
  half,
  left,
  levelText,
  listed,
  opposite,
  quoted,
  right,
  signed,
  signedInterval,
  withInterval,
} from './answer.ts'

/** What each loss costs: the largest in words, then all of them, ranked. */
export function lossesView(study: LossesStudy, context: AnswerContext): AnswerView {
  const { currency } = study
  const money = currency === undefined ? [] : [right(`${currency}/yr`), right('±')]
  return answer({
    headline: [...largest(study), ...dearest(study), whole(study)],
    warnings: fillingWarnings(study.window),
    basis: basisOf(study, study.window, context),
    tables: [
      {
        title: 'What the line would make more with that cause alone taken away:',
        columns: [left('cause'), right('good/day'), right('±'), ...money, left('')],
        rows: study.losses.map(loss => row(loss, currency !== undefined)),
      },
      ...(study.leftOut.length === 0 ? [] : [leftOut(study, money)]),
    ],
    notes: [
      overlap(study),
      ...(study.unseen.length === 0
        ? []
        : [`Never seen in these runs, so nothing is said of it: ${study.unseen.join('; ')}.`]),
      ...(study.doneAllTheSame.length === 0
        ? []
        : [
            `Taken away as if done in no time${currency === undefined ? '' : ', and paid for all the same'}, since something else rests on it: ${study.doneAllTheSame.join('; ')}.`,
          ]),
      ...(currency === undefined
        ? []
        : [`${currency}/yr: what the cells bring more, less wafers, materials and parts of stops.`]),
      `Intervals of the causes hold together at ${levelText(study.level)}. Shorter stops are no target: ` +
        `lock-out, purge and gas release take the time they take. ${PLANNED_WORK}`,
    ],
  })
}

function leftOut({ leftOut, currency }: LossesStudy, money: readonly AnswerColumn[]): AnswerTable {
  return {
    title: 'Planned work left out altogether, and what it prevents comes instead:',
    columns: [left('without'), right('good/day'), right('±'), ...money, left('')],
    rows: leftOut.map(loss => row(loss, currency !== undefined)),
  }
}

function largest(study: LossesStudy): string[] {
  const [first] = study.losses
  if (first === undefined) return ['The line has none of the causes that are looked for here.']
  if (first.verdict === 'more')
    return [`The largest loss shown is ${lossText(study, first)}.`, ...alike(study)]
  const shown = study.losses.find(({ verdict }) => verdict === 'more')
  return [
    shown === undefined
      ? 'No single cause is shown to cost output.'
      : `Which loss is the largest is not shown. Shown is ${lossText(study, shown)}.`,
    // No run tells more of what has cost no cell in any.
    ...(shown === undefined && !(first.goodPerDay.mean > 0) ? [] : [unsure(study, first, shown)]),
  ]
}

/** The cause that is shown to cost the most money, where it is not the one that is shown to cost the most cells: parts of stops may be dearer than their time. */
function dearest({ losses, currency }: LossesStudy): string[] {
  const more = (one: Estimate | undefined) => one !== undefined && shown(one) === 'more'
  const [first] = losses
    .filter(({ cashPerYear }) => more(cashPerYear))
    .sort((a, b) => (b.cashPerYear?.mean ?? 0) - (a.cashPerYear?.mean ?? 0))
  if (first?.cashPerYear === undefined || first === losses.find(({ verdict }) => verdict === 'more'))
    return []
  return [
    `In money the largest shown is ${first.name}: ${signedInterval(first.cashPerYear)} ${currency} a year.`,
  ]
}

function lossText({ currency }: LossesStudy, { name, goodPerDay, cashPerYear }: Loss): string {
  const money = cashPerYear === undefined ? '' : `, ${signedInterval(cashPerYear)} ${currency} a year`
  return `${name}: ${withInterval(goodPerDay)} good cells a day${money}`
}

/** Causes named in a sentence; the table has all. */
const NAMED = 3

function named(names: readonly string[]): string {
  const more = names.length - NAMED
  return [...names.slice(0, NAMED), ...(more > 0 ? [`${more} more`] : [])].join('; ')
}

/** What the largest loss may be no larger than. */
function alike({ notToldApart }: LossesStudy): string[] {
  return notToldApart.length === 0 ? [] : [`Not told apart from it: ${named(notToldApart)}.`]
}

/** Causes that seem larger than all that is shown, and how many replications would tell. */
function unsure(study: LossesStudy, first: Loss, shown: Loss | undefined): string {
  const { losses, replicationsNeeded: needed } = study
  const larger = shown === undefined ? [first] : losses.slice(0, losses.indexOf(shown))
  const names = `Perhaps ${shown === undefined ? 'largest' : 'larger'}: ${named(larger.map(({ name }) => name))}`
  if (needed === undefined) return `${names}; longer runs, or more of them, would tell.`
  return `${names}; about ${grouped(needed, 0)} replications of ${daysText(study.days)} would tell, if they are as large as they seem.`
}

function whole({ nameplate, goodPerDay, wholePerDay }: LossesStudy): string {
  const { steps } = nameplate
  const slowest =
    steps.length === 1
      ? `nameplate of its slowest step, ${quoted(steps[0])},`
      : `nameplates of the slowest steps of its lanes, ${listed(steps.map(quoted))} together,`
  return (
    `By the ${slowest} the line would make ` +
    `${grouped(nameplate.goodPerDay, 0)} a day; it makes ${figure(goodPerDay, { digits: 2 }).text}, ` +
    `${figure(wholePerDay, { digits: 2 }).text} less.`
  )
}

function overlap({ sumPerDay, overlapPerDay }: LossesStudy): string {
  const sum = `The causes sum to ${withInterval(sumPerDay)} good cells a day`
  const size = withInterval(overlapPerDay.mean < 0 ? opposite(overlapPerDay) : overlapPerDay)
  const { mean, low = mean, high = mean } = overlapPerDay
  // One cause alone, or causes that do not touch each other.
  if (Math.max(Math.abs(low), Math.abs(high)) < 1e-9 * Math.abs(sumPerDay.mean))
    return `${sum}, and no less together.`
  if (low < 0 && high > 0) return `${sum}; no difference to the whole is shown.`
  return mean >= 0
    ? `${sum}, each alone; the other ${size} are not of one cause: they come back when several go together, or are of what has no row ` +
        '(loads that fill up, cycles that differ, conveyors, warming up).'
    : `${sum}; the overlap of ${size} is counted more than once: one cause away hides another.`
}

function row({ name, goodPerDay, cashPerYear, verdict }: Loss, money: boolean): string[] {
  const cash = cashPerYear === undefined ? ['', ''] : [signed(cashPerYear), half(cashPerYear)]
  // Money may be shown where cells are not: wafers that are lost cost, also where others take their place.
  const cashShown = money && cashPerYear !== undefined && shown(cashPerYear) !== 'no difference shown'
  const note = verdict !== 'no difference shown' ? '' : cashShown ? 'cells not shown' : 'not shown'
  return [name, signed(goodPerDay), half(goodPerDay), ...(money ? cash : []), note]
}

/** The line as it is among values of the curve, marked. */
function valueText({ nowLabel }: CurveStudy, label: string): string {
  return label === nowLabel ? `${label} (now)` : label
}

/** Where a curve is highest between its ends, or at an end with others as high; what rises or falls throughout the ends tell. */
function highest(study: CurveStudy): string[] {
  const { points } = study
  const { label, goodPerHour, notToldApart } = study.highest
  const at = points.findIndex(point => point.label === label)
  const atEnd = at === 0 || at === points.length - 1
  if (notToldApart.length >= points.length - 1 || (atEnd && notToldApart.length === 0)) return []
  const alike = notToldApart.map(other => valueText(study, other))
  return [
    `Highest at ${valueText(study, label)}: ${figure(goodPerHour, { digits: 2 }).text}${alike.length === 0 ? '' : `; ${listed(alike)} not shown to make less`}.`,
  ]
}

/** Which value brings the most money: it need not be the one with the most cells, where a stop takes parts. */
function best(study: CurveStudy): string[] {
  const { points, currency, best, highest, nowLabel } = study
  if (best === undefined || points.length < 2) return []
  const at = points.findIndex(({ label }) => label === best.label)
  const atEnd = at === 0 || at === points.length - 1
  // The same end as of the cells, and nothing else comes near: that the table tells.
  if (atEnd && best.label === highest.label && best.notToldApart.length === 0) return []
  const cash = points[at]?.cashPerYear
  const gain =
    cash === undefined || best.label === nowLabel
      ? ''
      : `: ${signedInterval(cash)} ${currency} a year against now`
  const values = points.length + (points.some(({ label }) => label === nowLabel) ? 0 : 1)
  const alike = best.notToldApart.map(other => valueText(study, other))
  const less =
    alike.length === values - 1
      ? '; no other value is shown to bring less'
      : alike.length === 0
        ? ''
        : `; ${listed(alike)} not shown to bring less`
  return [`Most money at ${valueText(study, best.label)}${gain}${less}.`]
}

/** Output over one quantity. */
export function curveView(study: CurveStudy, context: AnswerContext): AnswerView {
  const { points, vary, nowLabel, currency } = study
  const [first, last] = [points[0], points[points.length - 1]]
  const never = points.some(({ neverServed }) => neverServed.length > 0)
  const same = points.every(({ verdict }) => verdict === 'no difference shown')
  return answer({
    headline: [
      `${vary} from ${first.label} to ${last.label}: ${figure(first.goodPerHour, { digits: 2 }).text} to ` +
        `${figure(last.goodPerHour, { digits: 2 }).text} good cells/h.`,
      `Now it is ${nowLabel}, and the line makes ${withInterval(study.goodPerHour)}` +
        `${same ? '; no value is shown to make more or less' : ''}.`,
      ...highest(study),
      ...best(study),
    ],
    warnings: fillingWarnings(study.window),
    basis: basisOf(study, study.window, context),
    tables: [
      {
        title: '',
        columns: [
          ...[right(vary), right('good/h'), right('±'), right('against now'), right('±')],
          ...(currency === undefined ? [] : [right(`${currency}/yr`), right('±')]),
          ...(never ? [left('')] : []),
        ],
        rows: points.map(({ label, goodPerHour, gainPerHour, cashPerYear, neverServed }) => [
          ...[label, figure(goodPerHour, { digits: 2 }).text, half(goodPerHour)],
          ...[signed(gainPerHour), half(gainPerHour)],
          ...(cashPerYear === undefined ? [] : [signed(cashPerYear), half(cashPerYear)]),
          ...(never ? [neverServed.length === 0 ? '' : 'some never served'] : []),
        ]),
      },
    ],
    notes: [
      ...points.flatMap(({ label, neverServed }) =>
        neverServed.length === 0
          ? []
          : [
              `At ${label} nobody ever comes to ${named(neverServed)}: it needs more people at the same time.`,
            ],
      ),
      ...(study.unit === 'heads' && nowLabel !== grouped(study.now, 0)
        ? ['Each value is the number in every shift that has any.']
        : []),
      ...(currency === undefined
        ? []
        : [
            `${currency}/yr: what the cells bring against now, less wafers, materials and parts of stops; not what it takes to change the stop.`,
          ]),
      `The differences hold together at ${levelText(study.level)}.${study.unit === 's' || study.unit === 'wafers or loads' ? ` ${PLANNED_WORK}` : ''}`,
    ],
  })
}
