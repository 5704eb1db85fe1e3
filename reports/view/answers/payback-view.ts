import type { Line } from '../../../sim/line/types.ts'
import type { Estimate } from '../../../sim/stats/estimate.ts'
import type { PaybackStudy, TriedChange, TriedPair } from '../../../sim/study/payback/payback.ts'
import { PLANNED_WORK } from '../cautions.ts'
import { grouped, significant } from '../format.ts'
import { cellWords, moneyShown, nothingShown, yearsText } from '../payback-words.ts'
import {
  type AnswerContext,
  type AnswerItem,
  type AnswerView,
  answer,
  basisOf,
  fillingWarnings,
  levelText,
  opposite,
  quoted,
  signedInterval,
  withInterval,
} from './answer.ts'

/** Longer than any tool lives: a payback beyond it is none. */
const NEVER = 100

/** A payback in less than about a month. */
const AT_ONCE = 0.1

/**
 * What each change pays: those that are shown to in words, then every one with its figures.
 *
 * @param line the line that was studied, for what a good cell earns
 */
export function paybackView(study: PaybackStudy, context: AnswerContext, line: Line): AnswerView {
  const { missing } = study
  const { sentences, loses } = cellWords(line)
  const found = [...shownToPay(study), ...moreThanSum(study)]
  return answer({
    // Whoever loses money by each cell must read that first.
    headline: loses ? [...sentences, ...found] : [...found, ...sentences],
    warnings: fillingWarnings(study.window),
    basis: [
      ...basisOf(study, study.window, context),
      ...(study.only === undefined ? [] : [onlyText(study.only)]),
      `As it is, the line makes ${withInterval(study.goodPerHour)} good cells/h.`,
    ],
    items: [
      ...study.changes.map(change => changeItem(change, study)),
      ...study.pairs.map(pair => pairItem(pair, study)),
    ],
    notes: [
      `${holdText(study)} Cash is what the extra cells bring, less wafers, what steps ` +
        `add to them, dummy wafers, parts of stops, upkeep, power and wages; an equal amount at the end of each year. ${PLANNED_WORK}`,
      ...(missing.length === 0 ? [] : [`The scenario does not say everything: ${missing.join('; ')}.`]),
    ],
  })
}

function onlyText(only: readonly string[]): string {
  return `Nothing was tried but what --only names: ${only.map(quoted).join(', ')}.`
}

function holdText({ changes, pairs, level }: PaybackStudy): string {
  if (changes.length === 1) return `Intervals are at ${levelText(level)}.`
  const ofPairs = pairs.length === 0 ? '' : `, and so do those of the ${pairs.length} pairs`
  return `Intervals of the ${changes.length} changes hold together at ${levelText(level)}${ofPairs}.`
}

function shownToPay({ changes, currency, years, only }: PaybackStudy): string[] {
  const paying = changes.filter(({ verdict }) => verdict === 'shown to pay')
  const [best] = paying
  const [alone] = changes
  if (best === undefined) {
    if (changes.length === 1)
      return [`${quoted(alone.name)}: ${alone.verdict}, ${signedInterval(alone.gainPerHour)} good cells/h.`]
    return [`No single change${only === undefined ? '' : ' of those asked for'} is shown to pay.`]
  }
  // What was not asked for was not tried.
  const more = changes.length === 1 ? [] : [othersText(paying.slice(1), only)]
  return [
    `${quoted(best.name)} pays: ${signedInterval(best.gainPerHour)} good cells/h` +
      `${backText(best.paybackYears, years)}, net present value ${valueText(best.npv, currency)}.`,
    ...more,
  ]
}

function othersText(others: readonly TriedChange[], only: PaybackStudy['only']): string {
  if (others.length === 0)
    return `No other ${only === undefined ? 'change' : 'of those asked for'} is shown to.`
  return `So ${others.length === 1 ? 'does' : 'do'} ${others.map(({ name }) => quoted(name)).join(', ')}.`
}

function moreThanSum({ pairs }: PaybackStudy): string[] {
  return pairs
    .filter(({ worthMoreThanSum }) => worthMoreThanSum === 'more')
    .map(
      ({ first, second, overSum }) =>
        `${quoted(first)} and ${quoted(second)} together bring ${withInterval(overSum)} cells/h more than their sum.`,
    )
}

function changeItem(change: TriedChange, { currency, years }: PaybackStudy): AnswerItem {
  const { name, verdict, gainPerHour, megawattPerYear, cashPerYear, changes } = change
  const watts = megawattPerYear === undefined ? '' : `, ${signedInterval(megawattPerYear)} MW/yr`
  const told = changes.join('; ')
  return {
    name,
    verdict,
    lines: [
      `${signedInterval(gainPerHour)} good cells/h${watts}; cash ${signedInterval(cashPerYear)} ${currency}/yr`,
      ...returnLines(change, currency, years),
      ...(told === '' ? [] : [told]),
    ],
  }
}

function pairItem(pair: TriedPair, { currency, years }: PaybackStudy): AnswerItem {
  const { first, second, verdict, gainPerHour, overSum, worthMoreThanSum, cashPerYear } = pair
  const words = {
    more: `more than the sum of both by ${withInterval(overSum)}`,
    less: `less than the sum of both by ${withInterval(opposite(overSum))}`,
    'no difference shown': `no difference to the sum of both shown: ${signedInterval(overSum)}`,
  }
  return {
    name: `${quoted(first)} and ${quoted(second)}`,
    verdict,
    lines: [
      `${signedInterval(gainPerHour)} good cells/h, ${words[worthMoreThanSum]}`,
      `cash ${signedInterval(cashPerYear)} ${currency}/yr`,
      ...returnLines(pair, currency, years),
    ],
  }
}

function returnLines(change: TriedChange | TriedPair, currency: string, years: number | undefined): string[] {
  const { investment, paybackYears, npv, internalRate, worth } = moneyShown(change)
  const nothing = nothingShown(change)
  if (investment === undefined) {
    if (nothing) return ['no worth is shown; no price given']
    return worth === undefined ? [] : [`worth ${withInterval(worth)} ${currency} at most; no price given`]
  }
  const rate = internalRate === undefined ? '' : `, internal rate ${rateText(internalRate)}`
  const back = nothing ? '; no payback is shown' : `${backText(paybackYears, years)}${rate}`
  return [
    `costs ${grouped(investment, 0)} ${currency}${back}`,
    ...(npv === undefined ? [] : [`net present value ${valueText(npv, currency)}`]),
  ]
}

/** Two digits are kept however wide the interval is: rounded to what it supports, 69 % would become 100 %. */
function rateText({ mean, low, high }: Estimate): string {
  const shares = (value: number) => significant(100 * value, 2)
  if (low === undefined || high === undefined) return `${shares(mean)} %`
  return `${shares(mean)} % (${shares(low)} to ${shares(high)})`
}

/** @param life years for which it is used, if the scenario says so */
function backText(back: Estimate | undefined, life: number | undefined): string {
  if (back === undefined) return ', never pays back'
  if (back.mean > NEVER) return `, does not pay back in ${NEVER} years`
  if (back.mean < AT_ONCE) return ', pays back at once'
  const { low, high } = back
  const upTo = high === undefined || high > NEVER ? 'never' : significant(high, 2)
  const range = low === undefined ? '' : ` (${significant(low, 2)} to ${upTo})`
  const after =
    life !== undefined && back.mean > life ? `, longer than the ${grouped(life, 0)} of its use` : ''
  return `, pays back in ${yearsText(back.mean)}${range}${after}`
}

function valueText(npv: Estimate | undefined, currency: string): string {
  return npv === undefined ? 'not known' : `${withInterval(npv)} ${currency}`
}
