import type { Estimate } from '../../sim/stats/estimate.ts'
import type { Figure } from './format.ts'
import type { Picture } from './picture.ts'
import type { Assumption } from './scenario-words.ts'
import type { ShiftView } from './shift.ts'

/**
 * A page as plain data: texts, figures, charts and tables, without any markup and
 * without a chart library's own terms. `reports/html` makes its text, `reports/browser`
 * draws its charts.
 */
export interface Page {
  /** The command that made it. */
  readonly command: string
  readonly title: string
  /** The answer, one paragraph each. */
  readonly answer: readonly string[]
  readonly figures: readonly KeyFigure[]
  readonly picture?: Picture
  readonly warnings: readonly { readonly text: string; readonly hint: string }[]
  readonly sections: readonly Section[]
  /** The stretch that can be played. */
  readonly shift?: ShiftView
  readonly assumptions: Assumptions
  readonly caution: string
}

/** One of the few figures that matter. */
export interface KeyFigure {
  readonly label: string
  readonly figure: Figure
  readonly unit: string
  /** Said below it, small. */
  readonly note?: string
  readonly estimate: Estimate
  /** Multiplies the estimate to give what is shown. */
  readonly scale: number
}

/** A chart with its table, and a sentence on what it shows. */
export interface Section {
  /** Unique on the page, letters and hyphens. */
  readonly id: string
  readonly title: string
  readonly lead: string
  readonly chart?: Chart
  readonly table?: Table
}

/** What the scenario assumes, and how the figures came about. */
export interface Assumptions {
  readonly about: readonly string[]
  readonly items: readonly Assumption[]
  /** How often each source is named, the most frequent first. */
  readonly sources: readonly { readonly from: string; readonly times: number }[]
  readonly facts: readonly { readonly name: string; readonly text: string }[]
  readonly statistics: readonly string[]
}

// ---- tables ----------------------------------------------------------------------

export interface Table {
  readonly caption: string
  readonly columns: readonly TableColumn[]
  readonly rows: readonly (readonly Cell[])[]
}

export interface TableColumn {
  readonly head: string
  readonly unit?: string
  readonly kind: 'text' | 'number'
}

/** What a reader sees, and the number behind it with all its digits. */
export interface Cell {
  readonly text: string
  readonly interval?: string
  readonly value?: number
  readonly low?: number
  readonly high?: number
}

// ---- charts ----------------------------------------------------------------------

/** What a colour and a pattern stand for: a state, a cause, or a place in a row of series. */
export type Tone = string

export type Chart = BarsChart | CourseChart | ColumnsChart | RangesChart | PointsChart

export interface Axis {
  readonly label: string
  readonly unit: string
}

interface ChartBase {
  /** Says what the chart shows: read out, and shown above it. */
  readonly title: string
}

/** Horizontal bars, one per name, each made of parts. */
export interface BarsChart extends ChartBase {
  readonly kind: 'bars'
  readonly names: readonly string[]
  readonly series: readonly Series[]
  readonly axis: Axis
  /** Fixed end of the axis. */
  readonly most?: number
  /** Written behind each bar. */
  readonly ends?: readonly string[]
  /** Names set in bold. */
  readonly marked?: readonly number[]
}

export interface Series {
  readonly name: string
  readonly tone: Tone
  readonly values: readonly number[]
}

/** Lines or stacked areas over time. */
export interface CourseChart extends ChartBase {
  readonly kind: 'course'
  readonly form: 'lines' | 'areas'
  /** Where the upright axis starts; default zero. */
  readonly from?: 'zero' | 'the data'
  readonly x: Axis & { readonly values: readonly number[] }
  readonly y: Axis
  readonly series: readonly Series[]
  /** From the start up to here, shaded. */
  readonly shaded?: { readonly to: number; readonly label: string }
  readonly levels?: readonly { readonly value: number; readonly label: string }[]
  /** Around the first series: ends of the interval of each value. */
  readonly ranges?: {
    readonly low: readonly (number | undefined)[]
    readonly high: readonly (number | undefined)[]
  }
  /** Lines drawn upright. */
  readonly uprights?: readonly { readonly value: number; readonly label: string }[]
}

/** Upright columns over classes, with whiskers where there are any. */
export interface ColumnsChart extends ChartBase {
  readonly kind: 'columns'
  readonly x: Axis
  readonly names: readonly string[]
  /** Classes of numbers: their edges, one more than names. */
  readonly edges?: readonly number[]
  readonly y: Axis
  readonly values: readonly number[]
  readonly low?: readonly (number | undefined)[]
  readonly high?: readonly (number | undefined)[]
  /** With edges: lines drawn upright. */
  readonly marks?: readonly { readonly at: number; readonly label: string }[]
}

/** A dot and its whiskers per name: differences and gains. */
export interface RangesChart extends ChartBase {
  readonly kind: 'ranges'
  readonly names: readonly string[]
  readonly axis: Axis
  /** Differences start from zero, which is drawn in; levels may start where the data do. */
  readonly from: 'zero' | 'the data'
  readonly values: readonly number[]
  readonly low: readonly (number | undefined)[]
  readonly high: readonly (number | undefined)[]
  /** Per name. */
  readonly tones: readonly Tone[]
  readonly tonesMean: readonly { readonly tone: Tone; readonly name: string }[]
  readonly ends?: readonly string[]
}

/** Points in a plane, each with a name. */
export interface PointsChart extends ChartBase {
  readonly kind: 'points'
  readonly x: Axis
  readonly y: Axis
  readonly points: readonly {
    readonly name: string
    readonly x: number
    readonly y: number
    readonly low?: number
    readonly high?: number
    readonly tone: Tone
  }[]
  readonly tonesMean: readonly { readonly tone: Tone; readonly name: string }[]
  readonly level?: { readonly value: number; readonly label: string }
}
