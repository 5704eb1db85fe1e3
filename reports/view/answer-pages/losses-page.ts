import type { Line } from '../../../sim/line/types.ts'
import type { Loss, LossesStudy } from '../../../sim/study/losses/losses.ts'
import { listed } from '../answers/answer.ts'
import { PLANNED_WORK } from '../cautions.ts'
import { grouped, significant } from '../format.ts'
import type { Section, Table } from '../page.ts'
import { columnsOf, tableOf } from '../table.ts'
import { differences, keyFigure, type PageParts, plainFigure } from './answer-page.ts'
import { outline } from './outline.ts'

/** Causes that the chart shows; all are in its table. */
const MOST = 25

/** Charts of `losses`: what each cause alone takes, and how that adds up. */
export function lossesParts(study: LossesStudy, line: Line): PageParts {
  const { nameplate, losses } = study
  const [first] = losses
  return {
    figures: [
      keyFigure('Made', 'good cells/day', study.goodPerDay, 'as the line is'),
      plainFigure(
        'By nameplate',
        'good cells/day',
        nameplate.goodPerDay,
        grouped(nameplate.goodPerDay, 0),
        nameplate.steps.length === 1
          ? `of the slowest step, ${nameplate.steps[0]}`
          : `of the slowest steps of the lanes, ${listed(nameplate.steps)} together`,
      ),
      keyFigure('Lost in all', 'good cells/day', study.wholePerDay),
      ...(first === undefined
        ? []
        : [
            keyFigure(
              first.verdict === 'more' ? 'Largest loss shown' : 'Largest loss, not shown',
              'good cells/day',
              first.goodPerDay,
              first.name,
            ),
          ]),
    ],
    picture: outline(line, {
      marked: nameplate.steps,
      markMeans: 'slowest by its nameplate',
      stand: study.stand,
    }),
    sections: [causes(study), ...(study.leftOut.length === 0 ? [] : [leftOut(study)]), account(study)],
  }
}

function causes(study: LossesStudy): Section {
  const { losses } = study
  const shown = losses.slice(0, MOST)
  return {
    id: 'losses',
    title: 'What each cause costs',
    lead: `Good cells a day more if that cause alone were taken away, on common random streams; the largest first${shown.length < losses.length ? `, ${shown.length} of ${losses.length} drawn` : ''}. Intervals hold together at ${significant(study.level * 100, 4)} %. Shorter stops are no target: lock-out, purge and gas release take the time they take. ${PLANNED_WORK}`,
    chart: differences(
      'Good cells a day that each cause takes',
      { label: 'good cells lost to it', unit: 'cells/day' },
      shown,
      loss => loss.name,
      loss => loss.goodPerDay,
    ),
    table: lossTable('All causes', 'cause', study, losses),
  }
}

/** What planned work brings: how much less there is without it. */
function leftOut(study: LossesStudy): Section {
  return {
    id: 'left-out',
    title: 'What planned work prevents',
    lead: `Good cells a day more, or less, if that work were left out altogether and what it renews came as often as without it. These intervals hold together at ${significant(study.level * 100, 4)} %. ${PLANNED_WORK}`,
    chart: differences(
      'Good cells a day without planned work',
      { label: 'good cells more', unit: 'cells/day' },
      study.leftOut,
      loss => loss.name,
      loss => loss.goodPerDay,
    ),
    table: lossTable('Planned work left out', 'without', study, study.leftOut),
  }
}

function lossTable(title: string, head: string, { currency }: LossesStudy, losses: readonly Loss[]): Table {
  const columns = columnsOf<Loss>()
  const money = losses.some(loss => loss.cashPerYear !== undefined)
  const [cells, verdict] = head === 'cause' ? ['lost to it', 'shown'] : ['more without it', 'more']
  return tableOf(
    title,
    [
      columns.words(head, loss => loss.name),
      columns.words('kind', loss => loss.kind),
      columns.estimates(cells, 'cells/day', loss => loss.goodPerDay, { digits: 2 }),
      ...(money
        ? [
            columns.estimates(
              'worth',
              `${currency ?? ''} a year`,
              loss => loss.cashPerYear ?? { mean: 0, n: 0 },
              { digits: 2 },
            ),
          ]
        : []),
      columns.words('verdict', loss => (loss.verdict === 'more' ? verdict : loss.verdict)),
    ],
    losses,
  )
}

function accountLead({ mean, low = mean, high = mean }: LossesStudy['overlapPerDay']): string {
  if (low < 0 && high > 0) return 'No difference is shown between the sum of the causes and the whole.'
  return mean >= 0
    ? 'The causes do not add up to the whole: some losses come back only when several causes go together, or are of what has no row (loads that fill up, cycles that differ).'
    : 'The causes do not add up to the whole: some losses are counted more than once, one cause away hides another.'
}

/** How the causes add up against the whole. */
function account(study: LossesStudy): Section {
  const columns = columnsOf<{ name: string; value: LossesStudy['goodPerDay'] }>()
  const rows = [
    {
      name: `nameplate of ${listed(study.nameplate.steps)}`,
      value: { mean: study.nameplate.goodPerDay, n: 1 },
    },
    { name: 'made', value: study.goodPerDay },
    { name: 'lost in all', value: study.wholePerDay },
    { name: 'sum of the causes, each alone', value: study.sumPerDay },
    { name: 'overlap: lost in all less the sum', value: study.overlapPerDay },
  ]
  const drawn = rows.slice(0, 4)
  return {
    id: 'account',
    title: 'From the nameplate to what is made',
    lead: accountLead(study.overlapPerDay),
    chart: {
      kind: 'bars',
      title: 'Nameplate, output and losses',
      names: drawn.map(({ name }) => name),
      series: [{ name: 'good cells', tone: 'productive', values: drawn.map(({ value }) => value.mean) }],
      axis: { label: 'good cells', unit: 'cells/day' },
      ends: drawn.map(({ value }) => grouped(value.mean, 0)),
    },
    table: tableOf(
      'The account',
      [
        columns.words('what', row => row.name),
        columns.estimates('good cells', 'cells/day', row => row.value, { digits: 2 }),
      ],
      rows,
    ),
  }
}
