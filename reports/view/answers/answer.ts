import type { Estimate } from '../../../sim/stats/estimate.ts'
import type { StudyHead } from '../../../sim/study/designs/designs.ts'
import { beginsEarly, type WindowHours } from '../../../sim/study/designs/window.ts'
import { CAUTION } from '../cautions.ts'
import {
  daysText,
  decimalsOf,
  figure,
  grouped,
  halfWidth,
  NOTHING,
  type Show,
  significant,
} from '../format.ts'

/** A column of a table for people. */
export interface AnswerColumn {
  readonly head: string
  readonly align: 'left' | 'right'
}

export interface AnswerTable {
  readonly title: string
  readonly columns: readonly AnswerColumn[]
  readonly rows: readonly (readonly string[])[]
}

/** A thing and what is to be said of it: its verdict beside its name, the figures below. */
export interface AnswerItem {
  readonly name: string
  readonly verdict: string
  readonly lines: readonly string[]
}

/** The answer of a study in words and rounded numbers, without any markup. */
export interface AnswerView {
  /** The answer itself, one sentence each. */
  readonly headline: readonly string[]
  /** What a reader must know before trusting it, and what helps. */
  readonly warnings: readonly { readonly text: string; readonly hint: string }[]
  /** What it is about and how the figures came about, one sentence each. */
  readonly basis: readonly string[]
  readonly items: readonly AnswerItem[]
  readonly tables: readonly AnswerTable[]
  /** What a reader must know besides, one sentence each. */
  readonly notes: readonly string[]
  readonly caution: string
}

/** What the program around knows about a study. */
export interface AnswerContext {
  /** Short hash of the line. */
  readonly fingerprint: string
  /** Wall time [s]; absent when runs were there already. */
  readonly seconds?: number
}

/** A view from its parts; what is not given is empty. */
export function answer(parts: Partial<AnswerView> & Pick<AnswerView, 'headline' | 'basis'>): AnswerView {
  return { warnings: [], items: [], tables: [], notes: [], caution: CAUTION, ...parts }
}

export function left(head: string): AnswerColumn {
  return { head, align: 'left' }
}

export function right(head: string): AnswerColumn {
  return { head, align: 'right' }
}

/** A window that misses a larger share of its output, since the line has not filled, is no basis for an answer. */
const MUCH_MISSED = 0.05

/** Of the output of a window what is missing at most, since it begins before a cell is through the line. */
function missedShare({ cutHours, windowHours, stayHours = 0 }: WindowHours): number {
  return (stayHours - cutHours) / windowHours
}

/** What to say of a window that is hardly more than the filling of the line. */
export function fillingWarnings(window: WindowHours | undefined): AnswerView['warnings'] {
  if (window?.stayHours === undefined || !beginsEarly(window) || missedShare(window) <= MUCH_MISSED) return []
  const [stay, from, hours] = [window.stayHours, window.cutHours, window.windowHours].map(h =>
    significant(h, 2),
  )
  return [
    {
      text: `The line was still filling: a cell spends about ${stay} h in it, and the ${hours} h measured begin ${from} h after the start of an empty one, so its output may read too low.`,
      hint: 'Run longer (--days); where the line closes, or days differ, whole days or weeks are cut, so twice as many.',
    },
  ]
}

/** A window that begins before the line has filled, in a sentence, where no warning says so. */
export function earlyText(window: WindowHours | undefined): string[] {
  if (window?.stayHours === undefined || !beginsEarly(window) || missedShare(window) > MUCH_MISSED) return []
  const [stay, from] = [window.stayHours, window.cutHours].map(hours => significant(hours, 2))
  return [
    `A cell spends about ${stay} h in the line, and what is measured begins ${from} h after the start of an empty one: longer runs (--days) may judge otherwise.`,
  ]
}

/** How the runs were made, one sentence each. */
export function basisOf(study: StudyHead, window: WindowHours | undefined, context: AnswerContext): string[] {
  const { replications, days, seed, drive, version } = study
  const cut =
    window === undefined
      ? ''
      : window.cutHours > 0
        ? `, the first ${significant(window.cutHours, 3)} h cut as warm-up`
        : ', no warm-up cut'
  const plural = replications === 1 ? 'replication' : 'replications'
  return [
    study.line,
    `${replications} ${plural} of ${daysText(days)} of each design on common random streams${cut}.`,
    ...earlyText(window),
    `Seed ${JSON.stringify(seed)}, line ${context.fingerprint}, ${drive} drive, version ${version}.`,
  ]
}

/** `95 %`. */
export function levelText(level: number): string {
  return `${significant(level * 100, 4)} %`
}

/** Digits of the half-width that a table keeps. */
const DIGITS = 2

/** A difference with its sign, to two digits of its interval: `+131`. */
export function signed(estimate: Estimate, show: Show = {}): string {
  const { text } = figure(estimate, { digits: DIGITS, ...show })
  return text.startsWith('-') || text === NOTHING || !/[1-9]/.test(text) ? text : `+${text}`
}

/** Half the width of the interval, rounded as the figure is; empty without an interval. */
export function half(estimate: Estimate, show: Show = {}): string {
  const width = halfWidth(estimate) * (show.scale ?? 1)
  if (width === 0) return '0'
  return Number.isFinite(width) ? grouped(width, decimalsOf(estimate, { digits: DIGITS, ...show })) : ''
}

/** `131 (99 to 162)`; without an interval the figure alone. */
export function withInterval(estimate: Estimate, show: Show = {}): string {
  const { text, interval } = figure(estimate, { digits: DIGITS, ...show })
  return interval === '' ? text : `${text} (${interval})`
}

/** The same with the sign of a difference. */
export function signedInterval(estimate: Estimate, show: Show = {}): string {
  const { interval } = figure(estimate, { digits: DIGITS, ...show })
  const text = signed(estimate, show)
  return interval === '' ? text : `${text} (${interval})`
}

/** The same estimate with the other sign. */
export function opposite({ mean, low, high, n }: Estimate): Estimate {
  return low === undefined || high === undefined
    ? { mean: -mean, n }
    : { mean: -mean, low: -high, high: -low, n }
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[]): string {
  const [last = '', ...before] = [...words].reverse()
  return before.length === 0 ? last : `${before.reverse().join(', ')} and ${last}`
}

export function quoted(name: string): string {
  return `"${name}"`
}
