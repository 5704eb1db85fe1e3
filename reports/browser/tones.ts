import { shape } from './elements.ts'

/**
 * Colours and patterns. The colours are those of Okabe and Ito, "Color Universal Design:
 * How to make figures and presentations that are friendly to colorblind people" (2008),
 * which keep apart for all common kinds of colour vision; grey takes the place of black,
 * which would vanish on a dark page. No colour stands alone: each has its pattern too.
 */
const ORANGE = '#e69f00'
const SKY = '#56b4e9'
const GREEN = '#009e73'
const YELLOW = '#f0e442'
const BLUE = '#0072b2'
const VERMILLION = '#d55e00'
const PURPLE = '#cc79a7'
const GREY = '#8d959c'

export type Pattern = 'plain' | 'dots' | 'rising' | 'falling' | 'upright' | 'level' | 'crossed' | 'checks'

export interface Look {
  readonly colour: string
  readonly pattern: Pattern
}

const LOOKS: Readonly<Record<string, Look>> = {
  productive: { colour: BLUE, pattern: 'plain' },
  starved: { colour: SKY, pattern: 'dots' },
  blocked: { colour: PURPLE, pattern: 'rising' },
  unscheduledDown: { colour: ORANGE, pattern: 'crossed' },
  scheduledDown: { colour: GREEN, pattern: 'upright' },
  waitingForCrew: { colour: VERMILLION, pattern: 'level' },
  engineering: { colour: YELLOW, pattern: 'checks' },
  nonScheduled: { colour: GREY, pattern: 'falling' },
  broken: { colour: ORANGE, pattern: 'crossed' },
  rejected: { colour: PURPLE, pattern: 'rising' },
  setUp: { colour: GREEN, pattern: 'upright' },
  lost: { colour: SKY, pattern: 'dots' },
  supply: { colour: SKY, pattern: 'falling' },
  plain: { colour: GREY, pattern: 'plain' },
  spare: { colour: GREY, pattern: 'dots' },
  shown: { colour: BLUE, pattern: 'plain' },
  against: { colour: ORANGE, pattern: 'crossed' },
  unsure: { colour: GREY, pattern: 'dots' },
  chosen: { colour: VERMILLION, pattern: 'plain' },
  series1: { colour: BLUE, pattern: 'plain' },
  series2: { colour: ORANGE, pattern: 'rising' },
  series3: { colour: GREEN, pattern: 'upright' },
  series4: { colour: PURPLE, pattern: 'dots' },
  series5: { colour: SKY, pattern: 'falling' },
  series6: { colour: VERMILLION, pattern: 'level' },
  series7: { colour: YELLOW, pattern: 'checks' },
}

export function lookOf(tone: string): Look {
  return LOOKS[tone] ?? { colour: GREY, pattern: 'plain' }
}

/** Strokes of a pattern within a square of 6 by 6. */
const STROKES: Readonly<Record<Pattern, string>> = {
  plain: '',
  dots: 'M1.5 1.5h1.2v1.2h-1.2zM4.5 4.5h1.2v1.2h-1.2z',
  rising: 'M-1 4L4 -1M2 7L7 2',
  falling: 'M-1 2L4 7M2 -1L7 4',
  upright: 'M1.5 0V6M4.5 0V6',
  level: 'M0 1.5H6M0 4.5H6',
  crossed: 'M0 0L6 6M6 0L0 6',
  checks: 'M0 0h3v3h-3zM3 3h3v3h-3z',
}

/** Colour of what is drawn over a tone. */
const INK = 'rgba(12,20,28,.42)'

/** Definitions of all tones for SVG: `fill="url(#tone-blocked)"`. Once per page. */
export function toneDefinitions(): SVGSVGElement {
  const defs = shape('defs')
  for (const [tone, { colour, pattern }] of Object.entries(LOOKS)) {
    const filled = pattern === 'dots' || pattern === 'checks'
    defs.append(
      shape(
        'pattern',
        { id: `tone-${tone}`, width: 6, height: 6, patternUnits: 'userSpaceOnUse' },
        shape('rect', { width: 6, height: 6, fill: colour }),
        shape('path', {
          d: STROKES[pattern],
          fill: filled ? INK : 'none',
          stroke: filled ? 'none' : INK,
          'stroke-width': 1,
        }),
      ),
    )
  }
  return shape('svg', { class: 'definitions', 'aria-hidden': 'true', width: 0, height: 0 }, defs)
}

/** A shape beside the colour of a dot, so that it is never the colour alone; names are those of the chart library. */
const SYMBOLS: Readonly<Record<string, string>> = {
  against: 'diamond',
  unsure: 'emptyCircle',
  chosen: 'rect',
}

export function symbolOf(tone: string): string {
  return SYMBOLS[tone] ?? 'circle'
}

/** A tone with its name; with a symbol where it stands for dots. */
export interface LegendEntry {
  readonly tone: string
  readonly name: string
  readonly symbol?: string
}

/** A legend: each tone with its name. */
export function fillLegend(place: Element, entries: readonly LegendEntry[]): void {
  place.replaceChildren(
    ...entries.map(({ tone, name, symbol }) => {
      const swatch = shape('svg', { width: 18, height: 12, 'aria-hidden': 'true' })
      swatch.append(symbol === undefined ? patch(tone) : dot(tone, symbol))
      const entry = document.createElement('span')
      entry.append(swatch, ` ${name}`)
      return entry
    }),
  )
}

function patch(tone: string): SVGElement {
  return shape('rect', { width: 18, height: 12, rx: 2, fill: `url(#tone-${tone})` })
}

function dot(tone: string, symbol: string): SVGElement {
  const { colour } = lookOf(tone)
  if (symbol === 'diamond') return shape('path', { d: 'M9 0.5L14.5 6L9 11.5L3.5 6z', fill: colour })
  if (symbol === 'rect') return shape('rect', { x: 4, y: 1, width: 10, height: 10, fill: colour })
  if (symbol === 'emptyCircle')
    return shape('circle', { cx: 9, cy: 6, r: 4.5, fill: 'none', stroke: colour, 'stroke-width': 2 })
  return shape('circle', { cx: 9, cy: 6, r: 5, fill: colour })
}

/** A pattern in the terms of the chart library. */
export function decalOf(tone: string): object | undefined {
  const quarter = Math.PI / 4
  const lines = { color: INK, dashArrayX: [1, 0], symbol: 'rect', symbolSize: 1 }
  switch (lookOf(tone).pattern) {
    case 'dots':
      return {
        color: INK,
        symbol: 'circle',
        symbolSize: 0.7,
        dashArrayX: [
          [5, 5],
          [0, 5, 5, 0],
        ],
        dashArrayY: [4, 2],
      }
    case 'rising':
      return { ...lines, dashArrayY: [1.2, 4], rotation: -quarter }
    case 'falling':
      return { ...lines, dashArrayY: [1.2, 4], rotation: quarter }
    case 'upright':
      return { ...lines, dashArrayY: [1.2, 3], rotation: Math.PI / 2 }
    case 'level':
      return { ...lines, dashArrayY: [1.2, 3] }
    case 'crossed':
      return { ...lines, dashArrayY: [1.2, 2.2], rotation: quarter }
    case 'checks':
      return {
        color: INK,
        symbol: 'rect',
        symbolSize: 1,
        dashArrayX: [
          [3, 3],
          [0, 3, 3, 0],
        ],
        dashArrayY: [3, 0],
      }
    default:
      return undefined
  }
}
