import { allItems, laneRoutes, nameOfItem } from '../../../sim/line/items.ts'
import type { Line } from '../../../sim/line/types.ts'
import type { LeftOut, SizeStudy, TriedDesign } from '../../../sim/study/size/size.ts'
import { endsText, unsureText } from '../answers/size-view.ts'
import { grouped, significant } from '../format.ts'
import type { Section } from '../page.ts'
import { columnsOf, tableOf } from '../table.ts'
import { differences, keyFigure, type PageParts, plainFigure } from './answer-page.ts'
import { outline } from './outline.ts'

const VERDICTS = { reaches: 'reaches it', misses: 'misses it', undecided: 'too close to tell' } as const
const TONES = { reaches: 'shown', misses: 'against', undecided: 'unsure' } as const

/** Charts of `size`: the designs tried by cost and output, and what each part of the chosen one brings. */
export function sizeParts(study: SizeStudy, line: Line): PageParts {
  const { chosen, currency, targetPerHour } = study
  return {
    figures: [
      ...(chosen === undefined
        ? [plainFigure('Target', 'cells/h', targetPerHour, grouped(targetPerHour, 0), 'not reached')]
        : [
            keyFigure('Good output', 'cells/h', chosen.goodPerHour, `target ${grouped(targetPerHour, 0)}/h`),
            plainFigure(
              'Cost over its life',
              currency,
              chosen.wholeLife,
              grouped(chosen.wholeLife, 0),
              study.years === undefined
                ? 'tools and places; no wafers or materials'
                : 'tools, places, upkeep, power and wages; no wafers or materials',
            ),
            plainFigure('Investment', currency, chosen.investment, grouped(chosen.investment, 0)),
          ]),
      plainFigure(
        'Designs run',
        '',
        study.designsRun,
        grouped(study.designsRun, 0),
        `of ${grouped(study.designs, 0)} that the numbers of "sizing" make, ${grouped(study.runs, 0)} runs`,
      ),
    ],
    picture: outline(study.chosenLine ?? line, {
      stand: study.stand,
      marked: study.chosenLine === undefined || chosen === undefined ? [] : changed(study.chosenLine, chosen),
      markMeans: 'changed in the chosen design',
      facts: item => (chosen?.changes ?? []).filter(change => change.startsWith(`${item}: `)),
    }),
    sections: [...(chosen === undefined ? [] : [numbers(study, chosen)]), ...tried(study), ...leftOut(study)],
  }
}

/** Items that the chosen design changes (`front print: tools 3 -> 4`); of a group that has other lanes, its steps. */
function changed({ route }: Line, { changes }: TriedDesign): string[] {
  return allItems(route).flatMap(item => {
    const name = nameOfItem(item)
    if (!changes.some(change => change.startsWith(`${name}: `))) return []
    if (!('group' in item)) return [name]
    const inside = laneRoutes(item).flatMap(lane => allItems(lane.route))
    return inside.flatMap(one => ('step' in one ? [one.step] : []))
  })
}

function numbers(study: SizeStudy, chosen: TriedDesign): Section {
  const columns = columnsOf<{ name: string; value: number; next: number | undefined }>()
  const rows = chosen.numbers.map(({ name, value }, at) => ({
    name,
    value,
    next: study.runnerUp?.numbers[at]?.value,
  }))
  return {
    id: 'numbers',
    title: 'The chosen design',
    lead: ['The cheapest design found that reaches the target, and the next best.', ...endsText(study)].join(
      ' ',
    ),
    table: tableOf(
      'Numbers of the chosen design',
      [
        columns.words('number of', row => row.name),
        columns.numbers('chosen', '', row => row.value),
        ...(study.runnerUp === undefined ? [] : [columns.numbers('next best', '', row => row.next)]),
      ],
      rows,
    ),
  }
}

function tried(study: SizeStudy): Section[] {
  const { tried: designs, chosen, currency, targetPerHour } = study
  if (designs.length === 0) return []
  const columns = columnsOf<TriedDesign>()
  const isChosen = (design: TriedDesign) =>
    chosen !== undefined && design.numbers.every(({ value }, at) => value === chosen.numbers[at]?.value)
  const name = (design: TriedDesign) => (design.changes.length === 0 ? 'as it is' : design.changes.join('; '))
  const points = designs.map(design => ({
    name: name(design),
    x: design.wholeLife,
    y: design.goodPerHour.mean,
    ...(design.goodPerHour.low !== undefined && { low: design.goodPerHour.low }),
    ...(design.goodPerHour.high !== undefined && { high: design.goodPerHour.high }),
    tone: isChosen(design) ? 'chosen' : TONES[design.verdict],
  }))
  const tones = [
    { tone: 'chosen', name: 'chosen' },
    { tone: 'shown', name: 'reaches the target' },
    { tone: 'unsure', name: 'too close to tell' },
    { tone: 'against', name: 'misses it' },
  ]
  return [
    {
      id: 'tried',
      title: 'Designs tried, by cost and output',
      lead: `Every design that came to the selection: what it costs over its life and what it makes, with intervals. ${study.guarantee ?? ''}`.trim(),
      chart: {
        kind: 'points',
        title: 'Output against cost of the designs tried',
        x: { label: 'cost over its life', unit: currency },
        y: { label: 'good output', unit: 'cells/h' },
        points,
        tonesMean: tones.filter(({ tone }) => points.some(point => point.tone === tone)),
        level: { value: targetPerHour, label: `target ${grouped(targetPerHour, 0)}` },
      },
      table: tableOf(
        'Designs that came to the selection, the cheapest first',
        [
          columns.words('changed', name),
          columns.numbers('cost over its life', currency, design => design.wholeLife, 7),
          columns.numbers('investment', currency, design => design.investment, 7),
          columns.numbers('floor', 'm2', design => design.floor),
          columns.estimates('good output', 'cells/h', design => design.goodPerHour, { digits: 2 }),
          columns.words('target', design => VERDICTS[design.verdict]),
        ],
        designs,
      ),
    },
  ]
}

function leftOut(study: SizeStudy): Section[] {
  const { leftOut: parts, level } = study
  if (parts.length === 0) return []
  const columns = columnsOf<LeftOut>()
  return [
    {
      id: 'left-out',
      title: 'One less of a kind',
      lead: `How the output of the chosen design falls when one tool or size is left out; intervals at ${significant(level * 100, 4)} %. ${unsureText(study).join('')}`.trim(),
      chart: differences(
        'Output with one less of a kind',
        { label: 'good cells more or less', unit: 'cells/h' },
        parts,
        part => part.name,
        part => part.gainPerHour,
      ),
      table: tableOf(
        'The chosen design with one less of a kind',
        [
          columns.words('instead', part => part.name),
          columns.estimates('difference', 'cells/h', part => part.gainPerHour, { digits: 2 }),
        ],
        parts,
      ),
    },
  ]
}
