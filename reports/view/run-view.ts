import { ALL_HOURS } from '../../sim/line/year.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { type AuditView, auditView } from './audit-view.ts'
import { CAUTION } from './cautions.ts'
import {
  amount,
  daysText,
  type Figure,
  grouped,
  OF_CLASSES,
  percent,
  significant,
  unitOfTime,
} from './format.ts'
import { limitSentence, shortOfSentence } from './limit.ts'
import {
  type CrewRow,
  crewRows,
  type HiddenDefectRow,
  hiddenDefectRows,
  type TimeLimitRow,
  timeLimitRows,
} from './people-rows.ts'
import {
  type BinRow,
  binRows,
  type PlaceRow,
  placeRows,
  type StepRow,
  type StopRow,
  stepRows,
  stopRows,
} from './rows.ts'
import { type CarrierRow, carrierRows, type DummyRow, dummyRows } from './wear-rows.ts'

/** What the program around knows about a run and the study does not. */
export interface RunContext {
  /** Wall time of the study [s]; undefined when it tells nothing of the speed. */
  readonly seconds?: number
  /** Short hash of the line that was simulated. */
  readonly fingerprint: string
  /** Name of the variant, when one was chosen, and what it changes, one change each. */
  readonly variant?: string
  readonly changes?: readonly string[]
}

/** A figure of the whole line. */
export interface Fact {
  readonly label: string
  readonly figure: Figure
  readonly unit: string
}

/** The result of a run in words and rounded numbers, without any markup. */
export interface RunView {
  readonly title: string
  /** The answer: what the line makes, which step looks like its limit, and who has no time to spare. */
  readonly headline: readonly string[]
  /** How the figures came about, one sentence each. */
  readonly basis: readonly string[]
  readonly facts: readonly Fact[]
  readonly steps: readonly StepRow[]
  readonly stops: readonly StopRow[]
  readonly crews: readonly CrewRow[]
  readonly timeLimits: readonly TimeLimitRow[]
  readonly hiddenDefects: readonly HiddenDefectRow[]
  readonly dummies: readonly DummyRow[]
  readonly carriers: readonly CarrierRow[]
  readonly places: readonly PlaceRow[]
  readonly bins: readonly BinRow[]
  readonly audit: AuditView
  readonly warnings: readonly { readonly text: string; readonly hint: string }[]
  readonly caution: string
  /** What was simulated and how fast. */
  readonly speed: string
}

/** Puts the result of a run into words. */
export function runView(study: RunStudy, context: RunContext): RunView {
  return {
    title: context.variant === undefined ? study.line : `${study.line}, variant "${context.variant}"`,
    headline: [outputSentence(study), limitSentence(study), ...shortOfSentence(study)],
    basis: basis(study, context),
    facts: facts(study),
    steps: stepRows(study),
    stops: stopRows(study),
    crews: crewRows(study),
    timeLimits: timeLimitRows(study),
    hiddenDefects: hiddenDefectRows(study),
    dummies: dummyRows(study),
    carriers: carrierRows(study),
    places: placeRows(study),
    bins: binRows(study),
    audit: auditView(study.audit),
    warnings: study.warnings.map(({ text, hint }) => ({ text, hint })),
    caution: CAUTION,
    speed: speedSentence(study, context.seconds),
  }
}

function outputSentence(study: RunStudy): string {
  const { perHour, megawattPerYear, hoursPerYear, shareOfTarget } = study.goodOutput
  // Whole cells are enough in a sentence; the facts have the decimals.
  const output = amount(perHour, { digits: 2, most: perHour.mean >= 100 ? 0 : 2 })
  const sure = output.interval === '' ? '1 replication, no interval' : `${output.interval} at ${level(study)}`
  const parts = [`${output.text} good cells/h (${sure})`]
  if (megawattPerYear !== undefined)
    parts.push(
      `${amount(megawattPerYear, { digits: 2, most: megawattPerYear.mean >= 100 ? 0 : 2 }).text} MW/yr` +
        (hoursPerYear === undefined || hoursPerYear === ALL_HOURS ? '' : ` (${grouped(hoursPerYear, 0)} h)`),
    )
  if (shareOfTarget !== undefined) parts.push(`${percent(shareOfTarget, { digits: 2 }).text} % of target`)
  return `${parts.join(', ')}.`
}

function basis(study: RunStudy, context: RunContext): string[] {
  const { warmUp, precision } = study
  const plural = study.replications === 1 ? 'replication' : 'replications'
  const changes = context.changes ?? []
  const cut =
    warmUp.cutHours > 0 ? `the first ${significant(warmUp.cutHours, 3)} h cut as warm-up` : 'no warm-up cut'
  const sentences = [
    ...(changes.length === 0 ? [] : [`Changed: ${changes.join('; ')}.`]),
    `${study.replications} ${plural} of ${daysText(study.days)}, ${cut}.`,
    `Seed ${JSON.stringify(study.seed)}, line ${context.fingerprint}, ${study.drive} drive, version ${study.version}.`,
  ]
  if (precision !== undefined) {
    const share = (value: number) => `${significant(value * 100, 2)} %`
    sentences.push(
      `Precision ${precision.met ? 'met' : 'not met'}: half-width ${share(precision.reached)} of the good output, ${share(precision.wanted)} wanted.`,
    )
  }
  return sentences
}

function facts(study: RunStudy): Fact[] {
  const { goodOutput, throughputHours } = study
  const list: Fact[] = []
  const add = (label: string, shown: Figure, unit: string) => list.push({ label, figure: shown, unit })
  add('Good output', amount(goodOutput.perHour, { digits: 2 }), 'cells/h')
  if (goodOutput.megawattPerYear !== undefined) {
    add('Good output', amount(goodOutput.megawattPerYear, { digits: 2 }), 'MW/yr')
  }
  if (goodOutput.shareOfTarget !== undefined) {
    const target = goodOutput.targetPerHour
    const unit = target === undefined ? '%' : `% of ${grouped(target, 0)}/h`
    add('Share of target', percent(goodOutput.shareOfTarget, { digits: 2, most: 3 }), unit)
  }
  if (goodOutput.efficiency !== undefined) {
    add('Efficiency of good cells', percent(goodOutput.efficiency, { digits: 2, most: 3 }), '%')
  }
  add('Wafers started', amount(study.startedPerHour, { digits: 2, most: 2 }), 'wafers/h')
  if (study.turnedAwayPerHour.mean > 0) {
    add('Turned away at the gate', amount(study.turnedAwayPerHour, { digits: 2 }), 'wafers/h')
  }
  add('Yield', percent(study.yield, { digits: 2, most: 3 }), '%')
  add('WIP', amount(study.wip, { digits: 2, most: 2 }), 'wafers')
  const { unit, scale } = unitOfTime(throughputHours.mean.mean)
  add('Throughput time, mean', amount(throughputHours.mean, { digits: 2, scale }), unit)
  add('Throughput time, median', amount(throughputHours.median, { ...OF_CLASSES, scale }), unit)
  add('Throughput time, 95 % within', amount(throughputHours.p95, { ...OF_CLASSES, scale }), unit)
  if (study.boxes) {
    add('Boxes swapped', amount(study.boxes.swapsPerDay), 'boxes/day')
    add('Held by full boxes', amount(study.boxes.heldHoursPerDay), 'tool-h/day')
  }
  return list
}

function speedSentence(study: RunStudy, seconds: number | undefined): string {
  const steps = study.waferSteps
  const span = `${study.replications} x ${daysText(study.days)}`
  if (seconds === undefined) return `${span}: ${inWords(steps)} wafer-steps`
  const took = `${span}: ${inWords(steps)} wafer-steps in ${significant(seconds, 2)} s`
  return seconds > 0 ? `${took}: ${inWords(steps / seconds)} wafer-steps/s` : took
}

/** A large count in a reader's words: 6.3 million, 41,000. */
function inWords(value: number): string {
  if (value >= 1e9) return `${significant(value / 1e9, 2)} billion`
  if (value >= 1e6) return `${significant(value / 1e6, 2)} million`
  return grouped(value, value >= 1e4 ? -3 : 0)
}

function level(study: RunStudy): string {
  return `${significant(study.level * 100, 4)} %`
}
