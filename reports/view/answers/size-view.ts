import { shown } from '../../../sim/study/designs/verdict.ts'
import type { SizeStudy, TriedDesign } from '../../../sim/study/size/size.ts'
import { daysText, figure, grouped, significant } from '../format.ts'
import {
  type AnswerContext,
  type AnswerView,
  answer,
  basisOf,
  earlyText,
  fillingWarnings,
  half,
  left,
  levelText,
  listed,
  quoted,
  right,
  signed,
  withInterval,
} from './answer.ts'

/** The cheapest design in words first, then what it is made of, what was tried, and what each part brings. */
export function sizeView(study: SizeStudy, context: AnswerContext): AnswerView {
  return answer({
    headline: headline(study),
    warnings: fillingWarnings(study.window),
    basis: basis(study, context),
    tables: [
      ...(study.chosen === undefined ? [] : [numbersTable(study.chosen, study.runnerUp)]),
      ...(study.tried.length === 0 ? [] : [triedTable(study)]),
      ...(study.leftOut.length === 0 ? [] : [leftOutTable(study)]),
    ],
    notes: [
      ...unsureText(study),
      ...endsText(study),
      ...(study.guarantee === undefined ? [] : [study.guarantee]),
      costText(study),
      ...(study.unpriced.length === 0
        ? []
        : [`Not in the costs, for want of a price: ${study.unpriced.join(', ')}.`]),
      `Tried: ${study.designsRun} of the ${grouped(study.designs, 0)} designs that the numbers of "sizing" make, ` +
        `${grouped(study.runs, 0)} runs in all.`,
      ...(study.complete
        ? []
        : ['The search was ended by its limit: a cheaper design may exist. --designs raises the limit.']),
    ],
  })
}

/** The search and the selection rest on different numbers of runs. */
function basis(study: SizeStudy, context: AnswerContext): string[] {
  const [line = '', , seed = ''] = basisOf(study, undefined, context)
  const { replications, days, tried } = study
  const judged = tried.map(({ goodPerHour }) => goodPerHour.n)
  const [least, most] = [Math.min(...judged), Math.max(...judged)]
  const fresh = least === most ? String(least) : `${least} to ${most}`
  const selection = judged.length === 0 ? '' : `, ${fresh} fresh ones of each that came to the selection`
  return [
    line,
    `${replications} ${replications === 1 ? 'replication' : 'replications'} of ${daysText(days)} of each design in the search${selection}; common random streams.`,
    ...(study.askedDays === undefined
      ? []
      : [`In runs of ${daysText(study.askedDays)} the line had not filled, so all were made longer.`]),
    ...windowText(study),
    ...earlyText(study.window),
    seed,
  ]
}

/** What of each run is measured. Designs that came to the selection are measured over one window. */
function windowText({ window, chosen }: SizeStudy): string[] {
  if (window === undefined) return []
  const { cutHours, windowHours } = window
  const of = chosen === undefined ? 'each run of the largest design' : 'each fresh run'
  const measured = `${significant(windowHours, 3)} h measured`
  return cutHours > 0
    ? [`Of ${of} the first ${significant(cutHours, 3)} h are cut as warm-up and ${measured}.`]
    : [`Of ${of} no warm-up is cut and ${measured}.`]
}

function headline(study: SizeStudy): string[] {
  const { chosen, runnerUp, currency, targetPerHour, level } = study
  const target = `${significant(targetPerHour, 5)} cells/h`
  if (chosen === undefined) return [missed(study, target), ...largestText(study)]
  const cost = (design: TriedDesign) => `${grouped(design.wholeLife, 0)} ${currency}`
  const what = chosen.numbers.map(({ name, value }) => `${name} ${grouped(value, 0)}`).join(', ')
  return [
    `The cheapest design found for ${target}: ${what}.`,
    `It makes ${withInterval(chosen.goodPerHour)} good cells/h (${levelText(level)}) and costs ${cost(chosen)} ` +
      `over its life, ${grouped(chosen.investment, 0)} ${currency} of it at the start.`,
    ...(runnerUp === undefined
      ? []
      : [
          `Next best: ${runnerUp.numbers.map(({ name, value }) => `${name} ${grouped(value, 0)}`).join(', ')}, ` +
            `${cost(runnerUp)}, ${withInterval(runnerUp.goodPerHour)} good cells/h.`,
        ]),
  ]
}

function missed({ largestPerHour, targetPerHour, tried, limits }: SizeStudy, target: string): string {
  if (tried.length > 0) return `No design tried is sure to reach ${target}; those that came near are below.`
  const largest = `the line makes about ${significant(largestPerHour, 4)} in short runs`
  if (largestPerHour >= targetPerHour && limits.length > 0) {
    const within = limits.map(limit => `the ${limit}`).join(' and ')
    return (
      `No design within ${within} reaches ${target}: with all numbers at their highest, ` +
      `which goes beyond ${limits.length > 1 ? 'them' : 'it'}, ${largest}.`
    )
  }
  // Nothing but the paper capacity, or the end of the search, can then have ruled out the largest design.
  if (largestPerHour >= targetPerHour)
    return `No design was found that reaches ${target}, though with all numbers at their highest ${largest}.`
  return (
    `No design within the limits reaches ${target}: the largest makes about ${significant(largestPerHour, 4)} in ` +
    'short runs.'
  )
}

function largestText({ largest }: SizeStudy): string[] {
  if (largest === undefined) return []
  const { numbers, heldBy, paperPerHour } = largest
  const what = numbers.map(({ name, value }) => `${name} ${grouped(value, 0)}`).join(', ')
  const who = heldBy === 'the feed' ? heldBy : quoted(heldBy)
  return [`The largest is ${what}; on paper ${who} allows it ${significant(paperPerHour, 4)} good cells/h.`]
}

function numbersTable(chosen: TriedDesign, runnerUp: TriedDesign | undefined) {
  const other = (index: number) => (runnerUp === undefined ? [] : [grouped(runnerUp.numbers[index].value, 0)])
  return {
    title: '',
    columns: [left('number of'), right('chosen'), ...(runnerUp === undefined ? [] : [right('next best')])],
    rows: chosen.numbers.map(({ name, value }, i) => [name, grouped(value, 0), ...other(i)]),
  }
}

function triedTable({ tried, currency, chosen }: SizeStudy) {
  const words = { reaches: 'reaches', misses: 'misses', undecided: 'too close to tell' }
  return {
    title: 'Designs that came to the selection, the cheapest first:',
    columns: [
      left(chosen === undefined ? 'changed' : 'against the chosen'),
      ...[right(currency), right('good/h'), right('±'), left('')],
    ],
    rows: tried.map(design => [
      chosen === undefined ? changed(design) : differing(chosen, design),
      grouped(design.wholeLife, 0),
      figure(design.goodPerHour, { digits: 2 }).text,
      half(design.goodPerHour),
      words[design.verdict],
    ]),
  }
}

function changed({ changes }: TriedDesign): string {
  return changes.length === 0 ? 'as it is' : changes.join('; ')
}

/** Long lists of changes would read alike: only what is not as in the chosen design. */
function differing(chosen: TriedDesign, { numbers }: TriedDesign): string {
  const other = numbers.filter(({ value }, i) => value !== chosen.numbers[i]?.value)
  return other.length === 0
    ? 'the chosen design'
    : other.map(({ name, value }) => `${name} ${grouped(value, 0)}`).join('; ')
}

function leftOutTable({ leftOut }: SizeStudy) {
  const words = { more: 'makes more', less: '', 'no difference shown': 'no difference shown' }
  return {
    title: 'The chosen design with one less of a kind:',
    columns: [left('instead'), right('good/h'), right('±'), left('')],
    rows: leftOut.map(({ name, gainPerHour }) => [
      name,
      signed(gainPerHour),
      half(gainPerHour),
      words[shown(gainPerHour)],
    ]),
  }
}

/** What to do where one less of a kind is not shown to make less. */
export function unsureText({ leftOut }: Pick<SizeStudy, 'leftOut'>): string[] {
  if (leftOut.every(({ gainPerHour }) => shown(gainPerHour) !== 'no difference shown')) return []
  return [
    'Where no difference is shown one less may be enough: try it with "compare" and more days, as a variant of ' +
      'the chosen design.',
  ]
}

/** Where the chosen design goes as far as it may, one sentence for either end. */
export function endsText({ atEnds }: Pick<SizeStudy, 'atEnds'>): string[] {
  return (['least', 'most'] as const).flatMap(end => {
    const there = atEnds.filter(one => one.end === end)
    if (there.length === 0) return []
    const what = listed(there.map(({ name, value }) => `${name} ${grouped(value, 0)}`))
    const be = there.length === 1 ? 'is' : 'are'
    return [
      `${what} ${be} the ${end} that "sizing" allows; ${end === 'least' ? 'fewer' : 'more'} was not tried.`,
    ]
  })
}

/** What is in the cost of a design, and what is not. */
function costText({ years, discountRate = 0 }: SizeStudy): string {
  const bought = 'all tools of the line, new or not, with their installation, and of all buffer places'
  if (years === undefined)
    return `The cost over its life is that of ${bought}: money has no "years" over which upkeep, power and wages count. No wafers, materials or parts are in it.`
  const rate = discountRate > 0 ? `discounted at ${significant(discountRate * 100, 4)} %` : 'not discounted'
  return `The cost over its life is that of ${bought}, and of upkeep, power and wages in ${grouped(years, 0)} ${years === 1 ? 'year' : 'years'}, ${rate}. No wafers, materials or parts are in it.`
}
