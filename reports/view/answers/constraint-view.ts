import type { ConstraintStep, ConstraintStudy } from '../../../sim/study/constraint/constraint.ts'
import { figure, grouped, halfWidth, PARTS, percent, significant } from '../format.ts'
import {
  type AnswerContext,
  type AnswerView,
  answer,
  basisOf,
  fillingWarnings,
  half,
  left,
  levelText,
  quoted,
  right,
  signed,
  signedInterval,
} from './answer.ts'

/** Which step holds the line, in words first, then the evidence of each step side by side. */
export function constraintView(study: ConstraintStudy, context: AnswerContext): AnswerView {
  const perCent = significant(study.faster * 100, 3)
  const closes = study.steps.some(({ states }) => states.off.mean > 0)
  return answer({
    headline: [
      study.verdict,
      ...gains(study, perCent),
      momentary(study),
      `The line makes ${figure(study.goodPerHour, { digits: 2 }).text} good cells/h.`,
    ],
    warnings: fillingWarnings(study.window),
    basis: basisOf(study, study.window, context),
    tables: [
      {
        title: `Shares of time in %. gain/h: good cells more with this step alone ${perCent} % faster.`,
        columns: [
          left('step'),
          right('paper/h'),
          right('prod.'),
          right('starved'),
          right('blocked'),
          right('down'),
          ...(closes ? [right('off')] : []),
          right('moment'),
          right('gain/h'),
          right('±'),
        ],
        rows: study.steps.map(step => row(step, closes)),
      },
    ],
    notes: [
      `The verdict goes by the gains, whose intervals hold together at ${levelText(study.level)}. ` +
        'paper/h: good cells an hour that the step alone would allow, net of stops and yields. ' +
        'moment: share of time as momentary constraint, a tool of the step being in the longest active period.',
    ],
  })
}

function row(step: ConstraintStep, closes: boolean): string[] {
  const { states } = step
  const share = (one: typeof states.productive) => percent(one, { ...PARTS, most: 0 }).text
  return [
    step.name,
    grouped(step.staticPerHour, 0),
    share(states.productive),
    share(states.starved),
    share(states.blocked),
    share(states.down),
    ...(closes ? [share(states.off)] : []),
    percent(step.momentaryShare, { digits: 2, most: 0 }).text,
    signed(step.gainPerHour),
    half(step.gainPerHour),
  ]
}

function gains({ held, steps, goodPerHour }: ConstraintStudy, perCent: string): string[] {
  const waits = steps.find(({ name }) => name === held.waits)
  if (waits) return [elsewhere(waits, perCent)]
  if (held.by === 'no step shown') return [noStep(steps, goodPerHour.mean, perCent)]
  return held.steps.slice(0, MOST_TOLD).map(name => {
    const step = steps.find(one => one.name === name) as ConstraintStep
    return `${quoted(name)} ${perCent} % faster brings ${signedInterval(step.gainPerHour)} good cells/h.`
  })
}

/** The most that a step gains is little, and it waits most of its time. */
function elsewhere({ name, gainPerHour, states }: ConstraintStep, perCent: string): string {
  const waiting = Math.round((100 * (states.starved.mean + states.blocked.mean)) / (1 - states.off.mean))
  return (
    `${quoted(name)} gains most: ${perCent} % faster it brings ${signedInterval(gainPerHour)} good cells/h, but it waits ${waiting} % of its ` +
    'time. What holds the line is no step: the feed, people, carriers or vehicles, a conveyor, or a cap on wafers. losses weighs them.'
  )
}

/** Less than this share of the output is next to nothing. */
const LITTLE = 0.01

/** That none brings more can be said only where no gain could be large. */
function noStep(steps: readonly ConstraintStep[], good: number, perCent: string): string {
  const high = ({ gainPerHour }: ConstraintStep) => gainPerHour.high ?? Infinity
  const best = steps.reduce((most, step) => (high(step) > high(most) ? step : most))
  const pairs = 'payback tries changes in pairs.'
  const causes = 'several hold it in turn, or the feed, people or carriers do'
  if (halfWidth(best.gainPerHour) > good)
    return `These runs are too few, or too short, to tell which step holds the line: the intervals of what a faster one brings are wider than all it makes.`
  if (high(best) <= LITTLE * good) return `No step alone ${perCent} % faster brings more: ${causes}; ${pairs}`
  return (
    `No step alone ${perCent} % faster is shown to bring more; ${quoted(best.name)} may bring ` +
    `${signedInterval(best.gainPerHour)} good cells/h. Either ${causes}, or more replications would tell; ${pairs}`
  )
}

function momentary({ steps, shiftsPerDay }: ConstraintStudy): string {
  const ranked = [...steps].sort((a, b) => b.momentaryShare.mean - a.momentaryShare.mean)
  const told = ranked.filter(({ momentaryShare }) => momentaryShare.mean >= LEAST_SHARE).slice(0, MOST_TOLD)
  if (told.length === 0) return 'No step is the momentary constraint for long.'
  const shares = told.map(
    ({ name, momentaryShare }) => `${quoted(name)} ${percent(momentaryShare, { digits: 2, most: 0 }).text} %`,
  )
  const shifts = shiftsPerDay.mean
  const often = shifts < 0.5 ? 'it hardly ever shifts' : `it shifts ${significant(shifts, 2)} times a day`
  return `Momentary constraint: ${shares.join(', ')} of the time; ${often}.`
}

const LEAST_SHARE = 0.05
const MOST_TOLD = 3
