import type { Line } from '../../../sim/line/types.ts'
import type { Estimate } from '../../../sim/stats/estimate.ts'
import { figure, type Show } from '../format.ts'
import type { KeyFigure, Page, RangesChart, Section } from '../page.ts'
import type { Picture } from '../picture.ts'
import { type Assumption, assumptionsOf, sourcesOf } from '../scenario-words.ts'

/** The answer in words, as the terminal gives it. */
export interface AnswerWords {
  readonly headline: readonly string[]
  readonly warnings: Page['warnings']
  readonly basis: readonly string[]
  readonly notes: readonly string[]
  readonly caution: string
}

/** What a study adds to its answer: the figures of the first screen, the line, charts with tables. */
export interface PageParts {
  readonly figures: readonly KeyFigure[]
  readonly picture?: Picture
  readonly sections: readonly Section[]
}

/** What the program around knows of a study. */
export interface AnswerPageContext {
  /** Name of the command. */
  readonly name: string
  readonly line: Line
  readonly variant?: string | undefined
  readonly fingerprint: string
  /** Lines of further files that it is compared with. */
  readonly others?: readonly { readonly line: Line; readonly fingerprint: string }[]
  readonly seed: string
  readonly version: string
  /** The command line that made it. */
  readonly command: string
}

/** What the edges of a window decide of a count, see `resolutionOf` in the studies. */
const COUNTED_TO =
  'The interval of a rate reaches one cell over the hours measured to either side at least, that of a difference of two rates two: so much the edges of the window decide, where all replications are alike too. Where loads leave in the same rhythm in all of them, it reaches as far as these make the count uneven.'

/** Sentences of an answer that stand on the first screen, after the first one. */
const SECOND = 2

/** The page of a study: its answer in words, its pictures, and what it rests on. */
export function answerPage(view: AnswerWords, parts: PageParts, context: AnswerPageContext): Page {
  const [first = '', ...more] = view.headline
  const { line, variant, others = [] } = context
  const lines = [line, ...others.map(other => other.line)]
  const items = others.length === 0 ? assumptionsOf(line) : lines.flatMap(ofLine)
  const rest = more.slice(SECOND)
  return {
    command: context.name,
    title: variant === undefined ? line.line : `${line.line}, variant "${variant}"`,
    answer: [first, more.slice(0, SECOND).join(' ')],
    figures: parts.figures,
    ...(parts.picture && { picture: parts.picture }),
    warnings: view.warnings,
    sections: parts.sections,
    assumptions: {
      about: [...new Set(lines.flatMap(aboutOf))],
      items,
      sources: sourcesOf(items),
      facts: [
        { name: 'Scenario', text: line.line },
        ...(variant === undefined ? [] : [{ name: 'Variant', text: variant }]),
        { name: 'Hash of the line', text: context.fingerprint },
        ...others.map(other => ({ name: `Hash of "${other.line.line}"`, text: other.fingerprint })),
        { name: 'Seed', text: context.seed },
        { name: 'Version', text: context.version },
        { name: 'Command line', text: context.command },
      ],
      // The name of the line stands at the top and among the facts.
      statistics: [...rest, ...view.basis.filter(text => text !== line.line), ...view.notes, COUNTED_TO],
    },
    caution: view.caution,
  }
}

/** Where a line comes from, and its notes. */
function aboutOf({ from, notes = [] }: Line): string[] {
  return [...(from === undefined ? [] : [from]), ...notes]
}

/** What a line assumes, its name before each item. */
function ofLine(line: Line): Assumption[] {
  return assumptionsOf(line).map(one => ({ ...one, item: `${line.line}: ${one.item}` }))
}

/** A figure for the first screen. */
export function keyFigure(
  label: string,
  unit: string,
  estimate: Estimate,
  note?: string,
  show: Show = {},
): KeyFigure {
  return {
    label,
    figure: figure(estimate, { digits: 2, ...show }),
    unit,
    ...(note !== undefined && { note }),
    estimate,
    scale: show.scale ?? 1,
  }
}

/** A figure that is a plain number, without an interval. */
export function plainFigure(
  label: string,
  unit: string,
  value: number,
  text: string,
  note?: string,
): KeyFigure {
  return {
    label,
    figure: { text, interval: '' },
    unit,
    ...(note !== undefined && { note }),
    estimate: { mean: value, n: 1 },
    scale: 1,
  }
}

/** What the tones of differences mean. */
export const DIFFERENCE_TONES = [
  { tone: 'shown', name: 'shown: the interval lies above zero' },
  { tone: 'against', name: 'shown to be less: the interval lies below zero' },
  { tone: 'unsure', name: 'no difference shown: zero is inside the interval' },
]

/** A tone by what the interval shows. */
export function toneOf({ low, high }: Estimate): string {
  if (low !== undefined && low > 0) return 'shown'
  return high !== undefined && high < 0 ? 'against' : 'unsure'
}

/** Differences as dots with whiskers, one per name. */
export function differences<Item>(
  title: string,
  axis: RangesChart['axis'],
  items: readonly Item[],
  name: (item: Item) => string,
  of: (item: Item) => Estimate,
  ends?: (item: Item) => string,
): RangesChart {
  const estimates = items.map(of)
  const tones = estimates.map(toneOf)
  return {
    kind: 'ranges',
    title,
    names: items.map(name),
    axis,
    from: 'zero',
    values: estimates.map(one => one.mean),
    low: estimates.map(one => one.low),
    high: estimates.map(one => one.high),
    tones,
    tonesMean: DIFFERENCE_TONES.filter(({ tone }) => tones.includes(tone)),
    ...(ends && { ends: items.map(ends) }),
  }
}
