import type { CurveStudy } from '../../../sim/study/losses/curve.ts'
import type { Loss, LossesStudy } from '../../../sim/study/losses/losses.ts'
import { figure, grouped } from '../format.ts'
import {
  type AnswerContext,
  type AnswerView,
  answer,
  basisOf,
  half,
  left,
  levelText,
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
    headline: [...largest(study), whole(study)],
    basis: basisOf(study, study.window, context),
    tables: [
      {
        title: 'What the line would make more with that cause alone taken away:',
        columns: [left('cause'), right('good/day'), right('±'), ...money, left('')],
        rows: study.losses.map(loss => row(loss, currency !== undefined)),
      },
    ],
    notes: [
      overlap(study),
      `Intervals of the causes hold together at ${levelText(study.level)}. Shorter stops are no target: ` +
        'lock-out, purge and gas release take the time they take.',
    ],
  })
}

function largest({ losses, currency }: LossesStudy): string[] {
  if (losses.length === 0) return ['The line has nothing that could be taken away.']
  const first = losses.find(({ verdict }) => verdict === 'more')
  if (first === undefined) return ['No single cause is shown to cost output: run longer, or more often.']
  const money =
    first.cashPerYear === undefined ? '' : `, ${signedInterval(first.cashPerYear)} ${currency} a year`
  const larger = losses.slice(0, losses.indexOf(first)).map(({ name }) => name)
  return [
    `The largest loss shown is ${first.name}: ${withInterval(first.goodPerDay)} good cells a day${money}.`,
    ...(larger.length === 0 ? [] : [`Perhaps larger, but not shown: ${larger.join('; ')}.`]),
  ]
}

function whole({ nameplate, goodPerDay, wholePerDay }: LossesStudy): string {
  return (
    `By the nameplate of its slowest step, ${quoted(nameplate.step)}, the line would make ` +
    `${grouped(nameplate.goodPerDay, 0)} a day; it makes ${figure(goodPerDay, { digits: 2 }).text}, ` +
    `${figure(wholePerDay, { digits: 2 }).text} less.`
  )
}

function overlap({ sumPerDay, overlapPerDay }: LossesStudy): string {
  const rest =
    overlapPerDay.mean >= 0
      ? 'comes back only when several causes go together'
      : 'is counted more than once: one cause away hides another'
  return (
    `The causes sum to ${withInterval(sumPerDay)} good cells a day; the overlap of ` +
    `${withInterval({ ...overlapPerDay, ...positive(overlapPerDay) })} ${rest}.`
  )
}

/** The size of an overlap, whatever its sign. */
function positive({ mean, low, high }: LossesStudy['overlapPerDay']) {
  if (mean >= 0 || low === undefined || high === undefined) return { mean: Math.abs(mean) }
  return { mean: -mean, low: -high, high: -low }
}

function row({ name, goodPerDay, cashPerYear, verdict }: Loss, money: boolean): string[] {
  const cash = cashPerYear === undefined ? ['', ''] : [signed(cashPerYear), half(cashPerYear)]
  const note = verdict === 'no difference shown' ? 'not shown' : ''
  return [name, signed(goodPerDay), half(goodPerDay), ...(money ? cash : []), note]
}

/** Output over one quantity. */
export function curveView(study: CurveStudy, context: AnswerContext): AnswerView {
  const { points, vary, nowLabel } = study
  const [first, last] = [points[0], points[points.length - 1]]
  return answer({
    headline: [
      `${vary} from ${first.label} to ${last.label}: ${figure(first.goodPerHour, { digits: 2 }).text} to ` +
        `${figure(last.goodPerHour, { digits: 2 }).text} good cells/h.`,
      `Now it is ${nowLabel}, and the line makes ${withInterval(study.goodPerHour)}.`,
    ],
    basis: basisOf(study, study.window, context),
    tables: [
      {
        title: '',
        columns: [right(vary), right('good/h'), right('±'), right('against now'), right('±')],
        rows: points.map(({ label, goodPerHour, gainPerHour }) => [
          label,
          figure(goodPerHour, { digits: 2 }).text,
          half(goodPerHour),
          signed(gainPerHour),
          half(gainPerHour),
        ]),
      },
    ],
    notes: [`The differences hold together at ${levelText(study.level)}.`],
  })
}
