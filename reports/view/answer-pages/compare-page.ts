import type { Line } from '../../../sim/line/types.ts'
import type { CompareStudy, DesignFigures, Pair } from '../../../sim/study/compare/compare.ts'
import { significant, unitOfTime } from '../format.ts'
import type { Section } from '../page.ts'
import { columnsOf, tableOf } from '../table.ts'
import { differences, keyFigure, type PageParts } from './answer-page.ts'
import { outline } from './outline.ts'

const NONE = { mean: 0, n: 0 } as const

/** Charts of `compare`: the designs side by side, and every pair with its difference. The first line is drawn. */
export function compareParts(study: CompareStudy, line: Line): PageParts {
  const ranked = [...study.designs].sort((a, b) => b.goodPerHour.mean - a.goodPerHour.mean)
  return {
    figures: ranked.slice(0, 4).map(({ name, goodPerHour, megawattPerYear }) => {
      const watts =
        megawattPerYear === undefined ? undefined : `${significant(megawattPerYear.mean, 4)} MW a year`
      return keyFigure(name, 'good cells/h', goodPerHour, watts)
    }),
    picture: outline(line, { marked: [], markMeans: '', stand: study.stand }),
    sections: [designs(study, line), pairs(study)],
  }
}

function designs(study: CompareStudy, line: Line): Section {
  const columns = columnsOf<DesignFigures>()
  const list = study.designs
  const best = (name: string) => study.best.includes(name)
  const currencies = new Set(list.flatMap(({ currency }) => currency ?? []))
  const [currency = ''] = currencies.size === 1 ? currencies : []
  const { unit, scale } = unitOfTime(Math.max(...list.map(({ throughputHours }) => throughputHours.mean)))
  return {
    id: 'designs',
    title: 'The designs side by side',
    lead: `Good cells an hour of each, with its own interval; the axis does not start at zero. The differences below are paired and surer than these intervals suggest. The line drawn above is ${line.line}, the first of them.`,
    chart: {
      kind: 'ranges',
      title: 'Good output by design',
      names: list.map(({ name }) => name),
      axis: { label: 'good output', unit: 'cells/h' },
      from: 'the data',
      values: list.map(({ goodPerHour }) => goodPerHour.mean),
      low: list.map(({ goodPerHour }) => goodPerHour.low),
      high: list.map(({ goodPerHour }) => goodPerHour.high),
      tones: list.map(({ name }) => (best(name) ? 'shown' : 'unsure')),
      tonesMean: [
        { tone: 'shown', name: 'no other is shown to make more' },
        { tone: 'unsure', name: 'another is shown to make more' },
      ].filter(({ tone }) => list.some(({ name }) => best(name) === (tone === 'shown'))),
    },
    table: tableOf(
      'The designs side by side',
      [
        columns.words('design', design => design.name),
        columns.estimates('good output', 'cells/h', design => design.goodPerHour, { digits: 2 }),
        columns.estimates('power', 'MW/yr', design => design.megawattPerYear ?? NONE, { digits: 2 }),
        columns.estimates('margin', `${currency} a year`.trim(), design => design.marginPerYear ?? NONE, {
          digits: 2,
        }),
        ...(currencies.size > 1 ? [columns.words('currency', design => design.currency ?? '')] : []),
        columns.estimates('WIP', 'wafers', design => design.wip, { digits: 2 }),
        columns.estimates('throughput time', unit, design => design.throughputHours, { digits: 2, scale }),
      ],
      list,
    ),
  }
}

function pairs(study: CompareStudy): Section {
  const columns = columnsOf<Pair>()
  const name = ({ first, second }: Pair) => `${second} against ${first}`
  const words = { more: 'more', less: 'less', 'no difference shown': 'no difference shown' }
  return {
    id: 'pairs',
    title: 'Every pair',
    lead: `Difference in good output, paired on common random streams. ${study.pairs.length === 1 ? 'The interval holds' : `The intervals of all ${study.pairs.length} pairs hold together`} at ${significant(study.level * 100, 4)} %. What differs between the lines stands in the table.`,
    chart: differences(
      'Difference in good output by pair',
      { label: 'the one named first makes more', unit: 'cells/h' },
      study.pairs,
      name,
      pair => pair.gainPerHour,
    ),
    table: tableOf(
      'Differences by pair',
      [
        columns.words('pair', name),
        columns.estimates('difference', 'cells/h', pair => pair.gainPerHour, { digits: 2 }),
        columns.estimates('difference', 'MW/yr', pair => pair.megawattPerYear ?? NONE, { digits: 2 }),
        columns.words('verdict', pair => words[pair.verdict]),
        columns.words('what differs', pair => pair.changes.join('; ')),
      ],
      study.pairs,
    ),
  }
}
