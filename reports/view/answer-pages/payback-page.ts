import type { Line } from '../../../sim/line/types.ts'
import type { PaybackStudy, TriedChange, TriedPair } from '../../../sim/study/payback/payback.ts'
import { figure, grouped, NOTHING, significant } from '../format.ts'
import type { Section } from '../page.ts'
import { moneyShown, nothingShown, yearsText } from '../payback-words.ts'
import { columnsOf, tableOf } from '../table.ts'
import { differences, keyFigure, type PageParts, plainFigure } from './answer-page.ts'
import { outline } from './outline.ts'

/** Changes that a chart shows; all are in its table. */
const MOST = 30
/** Longer than any tool lives. */
const NEVER = 100
const NONE = { mean: 0, n: 0 } as const

/** Charts of `payback`: the gain of each change, what it is worth, and pairs against their sum. */
export function paybackParts(study: PaybackStudy, line: Line): PageParts {
  const { changes, currency } = study
  // A loss that is shown is not the best of changes of which nothing is.
  const best = changes
    .map(moneyShown)
    .find(({ npv, verdict }) => npv !== undefined && verdict !== 'shown not to pay')
  // The changes stand in the order of what they are worth: what brings most need not be the first.
  const [most] = byGain(changes)
  const paying = changes.filter(({ verdict }) => verdict === 'shown to pay')
  const named = paying.flatMap(change => stepsNamed(line, change.name))
  return {
    figures: [
      keyFigure('Good output', 'cells/h', study.goodPerHour, 'as the line is'),
      plainFigure(
        'Shown to pay',
        '',
        paying.length,
        `${paying.length} of ${changes.length}`,
        'changes tried',
      ),
      ...(best?.npv === undefined ? [] : [keyFigure('Best present value', currency, best.npv, best.name)]),
      ...(most === undefined
        ? []
        : [keyFigure('Largest gain', 'cells/h', most.gainPerHour, `${most.name}, ${paybackText(most)}`)]),
    ],
    picture: outline(line, {
      marked: [...new Set(named)],
      markMeans: 'a change here is shown to pay',
      stand: study.stand,
    }),
    sections: [gains(study), ...worths(study), ...pairs(study)],
  }
}

/** Steps whose names stand in the name of a change. */
function stepsNamed(line: Line, change: string): string[] {
  const names: string[] = []
  const walk = (route: Line['route']) => {
    for (const item of route) {
      if ('step' in item && change.includes(item.step)) names.push(item.step)
      if ('group' in item) {
        walk(item.each ?? [])
        if (!Array.isArray(item.lanes))
          for (const lane of Object.values(item.lanes)) walk(lane as Line['route'])
      }
    }
  }
  walk(line.route)
  // "print" stands in "front print" too: the longest is meant.
  return names.filter(name => !names.some(other => other !== name && other.includes(name)))
}

function paybackText(change: TriedChange): string {
  const { paybackYears } = change
  if (nothingShown(change)) return 'no payback shown'
  if (paybackYears === undefined || paybackYears.mean > NEVER) return 'no payback'
  return `pays back in ${yearsText(paybackYears.mean)}`
}

function byGain(changes: readonly TriedChange[]): TriedChange[] {
  return [...changes].sort((a, b) => b.gainPerHour.mean - a.gainPerHour.mean)
}

/** At what level the intervals hold, and that others were not asked for. */
function heldText({ changes, level, only }: PaybackStudy): string {
  const at = `${significant(level * 100, 4)} %`
  const held =
    changes.length === 1
      ? `The interval is at ${at}.`
      : `The intervals of all ${changes.length} changes hold together at ${at}.`
  return only === undefined ? held : `${held} Nothing was tried but what --only names.`
}

function gains(study: PaybackStudy): Section {
  const columns = columnsOf<TriedChange>()
  const { currency } = study
  const changes = study.changes.map(moneyShown)
  const shown = byGain(changes).slice(0, MOST)
  const watts = changes.some(({ megawattPerYear }) => megawattPerYear !== undefined)
  return {
    id: 'gains',
    title: 'What each change brings',
    lead: `Good cells an hour more with that change alone, on common random streams; behind it the time in which it pays back. ${heldText(study)}`,
    chart: differences(
      'Gain in good output by change',
      { label: 'good cells more', unit: 'cells/h' },
      shown,
      change => change.name,
      change => change.gainPerHour,
      ({ paybackYears }) =>
        paybackYears === undefined || paybackYears.mean > NEVER
          ? NOTHING
          : `${significant(paybackYears.mean, 2)} yr`,
    ),
    table: tableOf(
      'Every change tried',
      [
        columns.words('change', change => change.name),
        columns.words('kind', change => change.kind),
        columns.words('verdict', change => change.verdict),
        columns.estimates('gain', 'cells/h', change => change.gainPerHour, { digits: 2 }),
        ...(watts
          ? [columns.estimates('gain', 'MW/yr', change => change.megawattPerYear ?? NONE, { digits: 2 })]
          : []),
        columns.estimates('cash', `${currency}/yr`, change => change.cashPerYear, { digits: 2 }),
        columns.numbers('investment', currency, change => change.investment),
        columns.estimates('payback', 'years', change => change.paybackYears ?? NONE, {
          digits: 2,
          most: 2,
          keep: 'first digit',
        }),
        columns.estimates('net present value', currency, change => change.npv ?? NONE, { digits: 2 }),
        columns.shares('internal rate', change => change.internalRate ?? NONE, {
          digits: 2,
          most: 1,
          keep: 'first digit',
        }),
        columns.words('in words', change => change.changes.join('; ')),
      ],
      changes,
    ),
  }
}

function worths({ changes, currency }: PaybackStudy): Section[] {
  const told = changes.map(moneyShown)
  const priced = told.filter(({ npv }) => npv !== undefined).slice(0, MOST)
  if (priced.length === 0) return []
  const left = changes.some(nothingShown) ? ' Where neither cells nor cash are shown none is told.' : ''
  const columns = columnsOf<TriedChange>()
  return [
    {
      id: 'worth',
      title: 'What each change is worth',
      lead: `Net present value: the cash of all years at the discount rate of the scenario, less the investment, with the interval of the cash carried through. Behind each its investment.${left}`,
      chart: differences(
        'Net present value by change',
        { label: 'net present value', unit: currency },
        priced,
        change => change.name,
        change => change.npv ?? NONE,
        ({ investment }) => (investment === undefined ? NOTHING : grouped(investment, 0)),
      ),
      table: tableOf(
        'Net present value by change',
        [
          columns.words('change', change => change.name),
          columns.numbers('investment', currency, change => change.investment),
          columns.estimates('net present value', currency, change => change.npv ?? NONE, { digits: 2 }),
          columns.words('verdict', change => change.verdict),
        ],
        priced,
      ),
    },
  ]
}

function pairs({ pairs: couples, currency, level }: PaybackStudy): Section[] {
  if (couples.length === 0) return []
  const tried = couples.map(moneyShown)
  const columns = columnsOf<TriedPair>()
  const name = ({ first, second }: TriedPair) => `${first} and ${second}`
  return [
    {
      id: 'pairs',
      title: 'Two changes together',
      lead: `Gain of both together less the gains of each alone: above zero the pair is worth more than its sum. Intervals hold together at ${significant(level * 100, 4)} %.`,
      chart: differences(
        'What a pair brings over the sum of its parts',
        { label: 'over the sum', unit: 'cells/h' },
        tried,
        name,
        pair => pair.overSum,
        pair => `${figure(pair.gainPerHour, { digits: 2 }).text} in all`,
      ),
      table: tableOf(
        'Pairs tried',
        [
          columns.words('pair', name),
          columns.estimates('gain of both', 'cells/h', pair => pair.gainPerHour, { digits: 2 }),
          columns.estimates('over the sum', 'cells/h', pair => pair.overSum, { digits: 2 }),
          columns.estimates('cash', `${currency}/yr`, pair => pair.cashPerYear, { digits: 2 }),
          columns.numbers('investment', currency, pair => pair.investment),
          columns.estimates('net present value', currency, pair => pair.npv ?? NONE, { digits: 2 }),
          columns.words('verdict', pair => pair.verdict),
        ],
        tried,
      ),
    },
  ]
}
