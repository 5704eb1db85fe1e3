import type { EChartsCoreOption } from 'echarts/core'
import type { Axis } from '../view/page.ts'
import type { Scheme } from './scheme.ts'
import type { LegendEntry } from './tones.ts'

/** A chart ready to be drawn, and what keys can reach in it. */
export interface Plot {
  readonly option: EChartsCoreOption
  /** Height of the drawing [px]. */
  readonly height: number
  readonly legend: readonly LegendEntry[]
  /** One per value that a key can reach: what is said, and where the pointer of the chart goes. */
  readonly values: readonly Value[]
}

export interface Value {
  readonly words: string
  readonly series: number
  readonly at: number
}

/** A number for a reader: four digits are enough beside a chart, the table has them all. */
export function shown(value: number): string {
  if (!Number.isFinite(value)) return '–'
  const digits = Math.abs(value) >= 1000 ? 0 : Math.abs(value) >= 100 ? 1 : Math.abs(value) >= 1 ? 2 : 3
  return value.toLocaleString('en', { maximumFractionDigits: digits })
}

/** What all charts share: type, no animation, colours of the page. */
export function frame(scheme: Scheme) {
  return {
    animation: false,
    backgroundColor: 'transparent',
    textStyle: { fontFamily: scheme.font, fontSize: 12, color: scheme.ink },
    // Names and descriptions are in the markup around the chart; the library's own would repeat them.
    aria: { enabled: false, decal: { show: false } },
    tooltip: {
      confine: true,
      backgroundColor: scheme.paper,
      borderColor: scheme.rule,
      padding: [6, 9],
      textStyle: { color: scheme.ink, fontSize: 12 },
      extraCssText: 'box-shadow:0 2px 10px rgba(0,0,0,.18);max-width:22rem;white-space:normal',
    },
  }
}

/** An axis of numbers with its label and unit. */
export function valueAxis({ label, unit }: Axis, scheme: Scheme) {
  return {
    type: 'value' as const,
    name: unit === '' ? label : `${label} [${unit}]`,
    nameTextStyle: { color: scheme.faint, fontSize: 12 },
    axisLabel: { color: scheme.faint, fontSize: 11, hideOverlap: true },
    axisLine: { show: false },
    axisTick: { show: false },
    splitLine: { lineStyle: { color: scheme.rule } },
  }
}

/** An axis of names. */
export function nameAxis(names: readonly string[], scheme: Scheme) {
  return {
    type: 'category' as const,
    data: [...names],
    axisLabel: { color: scheme.ink, fontSize: 12 },
    axisLine: { lineStyle: { color: scheme.rule } },
    axisTick: { show: false },
  }
}

/** Text for a tooltip: the library takes markup there, so names must be made harmless. */
export function harmless(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
}

/** A tooltip that says just what keys would say. */
export function saying(values: readonly Value[]) {
  return ({ seriesIndex, dataIndex }: { seriesIndex: number; dataIndex: number }) =>
    harmless(values.find(({ series, at }) => series === seriesIndex && at === dataIndex)?.words ?? '')
}
