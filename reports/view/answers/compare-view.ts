import type { CompareStudy, DesignFigures, Pair } from '../../../sim/study/compare/compare.ts'
import { daysText, figure, grouped, halfWidth, significant, unitOfTime } from '../format.ts'
import {
  type AnswerContext,
  type AnswerItem,
  type AnswerView,
  answer,
  basisOf,
  fillingWarnings,
  half,
  left,
  levelText,
  listed,
  quoted,
  right,
  signedInterval,
} from './answer.ts'

/** Which layout makes more, in words first, then each side by side, then each pair. */
export function compareView(study: CompareStudy, context: AnswerContext): AnswerView {
  const { unit, scale } = unitOfTime(Math.max(...study.designs.map(one => one.throughputHours.mean)))
  const together = study.pairs.length === 1 ? '' : `, together over ${study.pairs.length} pairs`
  return answer({
    headline: [best(study), ...unseen(study)],
    warnings: fillingWarnings(study.window),
    basis: basisOf(study, study.window, context),
    tables: [
      {
        title: '',
        columns: [
          left('design'),
          right('good/h'),
          right('±'),
          ...(hasWatts(study) ? [right('MW/yr')] : []),
          right('WIP'),
          right(`${unit} in line`),
        ],
        rows: study.designs.map(one => designRow(one, hasWatts(study), scale)),
      },
    ],
    items: study.pairs.map(item),
    notes: [
      `Intervals of the differences: paired, at ${levelText(study.level)}${together}. ` +
        'Random streams are common where steps have the same name.',
      ...plan(study),
    ],
  })
}

function hasWatts({ designs }: CompareStudy): boolean {
  return designs.some(({ megawattPerYear }) => megawattPerYear !== undefined)
}

function best({ best: names, pairs, designs }: CompareStudy): string {
  const [first = '', second, ...more] = names.map(quoted)
  if (second === undefined)
    return `${first} makes the most: ${designs.length === 2 ? 'more than the other' : 'more than each of the others'}, as shown below.`
  if (names.length === designs.length && pairs.every(({ verdict }) => verdict === 'no difference shown'))
    return `No difference shown between ${listed([first, second, ...more])}.`
  return `${listed([first, second, ...more])} make the most; no other is shown to make more than any of them.`
}

/** How large a difference could have been without being shown, where none is shown. */
function unseen({ pairs, replications, days }: CompareStudy): string[] {
  if (pairs.length === 0 || pairs.some(({ verdict }) => verdict !== 'no difference shown')) return []
  const widest = Math.max(...pairs.map(({ gainPerHour }) => halfWidth(gainPerHour)))
  if (!(widest > 0)) return []
  const runs = `${replications} replications of ${daysText(days)}`
  return [`One of less than about ${significant(widest, 2)} cells/h would not show in ${runs}.`]
}

function designRow(
  { name, goodPerHour, megawattPerYear, wip, throughputHours }: DesignFigures,
  watts: boolean,
  scale: number,
) {
  return [
    name,
    figure(goodPerHour, { digits: 2 }).text,
    half(goodPerHour),
    ...(watts ? [megawattPerYear === undefined ? '' : figure(megawattPerYear, { digits: 2 }).text] : []),
    figure(wip).text,
    figure(throughputHours, { digits: 2, scale, most: 2 }).text,
  ]
}

function item({ first, second, gainPerHour, megawattPerYear, verdict, changes }: Pair): AnswerItem {
  const words = { more: 'makes more', less: 'makes less', 'no difference shown': 'no difference shown' }
  const watts = megawattPerYear === undefined ? '' : `, ${signedInterval(megawattPerYear)} MW/yr`
  return {
    name: `${quoted(second)} against ${quoted(first)}`,
    verdict: words[verdict],
    lines: [
      `${signedInterval(gainPerHour)} good cells/h${watts}`,
      changes.length === 0 ? 'The lines are the same.' : `Differs in: ${changes.join('; ')}.`,
    ],
  }
}

/** Fewer replications than this in the first stage make a plan that asks for far more (Law, Simulation Modeling and Analysis, asks for 20). */
const FIRST_STAGE = 10

/** Not where the best is shown already: that takes account of common streams, the rule does not. */
function plan({ plan: next, designs, best: shownBest, replications: first }: CompareStudy): string[] {
  if (next === undefined || shownBest.length === 1) return []
  const { worth, replications, probability } = next
  return [
    `To pick the best of ${designs.length} with probability ${levelText(probability)}, if it is better by ` +
      `${significant(worth, 3)} cells/h (0.5 %): ${grouped(replications, 0)} replications of each (Rinott 1978)` +
      `${first < FIRST_STAGE ? `; judged by ${first} only, that number is large: begin with ${FIRST_STAGE}` : ''}.`,
  ]
}
