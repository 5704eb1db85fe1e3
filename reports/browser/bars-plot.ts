import type { BarsChart } from '../view/page.ts'
import { frame, nameAxis, type Plot, saying, shown, type Value, valueAxis } from './chart-frame.ts'
import { widthOfNames } from './name-lines.ts'
import type { Scheme } from './scheme.ts'
import { decalOf, lookOf } from './tones.ts'

/** Height of a bar with the gap to the next [px]. */
const PITCH = 24
/** Above so many bars they are set closer. */
const MANY = 60
const CLOSE_PITCH = 16
/** In a narrow window names that are not short stand above their bars. */
const NARROW = 600
const SHORT_NAME = 14
const ABOVE_PITCH = 36

/** Horizontal bars in parts. */
export function barsPlot(chart: BarsChart, scheme: Scheme, width: number): Plot {
  const { names, series, axis, ends } = chart
  const above = width < NARROW && names.some(name => name.length > SHORT_NAME)
  const pitch = above ? ABOVE_PITCH : names.length > MANY ? CLOSE_PITCH : PITCH
  const left = above ? 6 : Math.min(widthOfNames(names) + 14, Math.max(110, width * 0.3))
  const marked = new Set(chart.marked)
  const values = names.flatMap((name, at) =>
    series.map(
      (one, index): Value => ({
        words: `${name}: ${one.name} ${shown(one.values[at] ?? 0)} ${axis.unit}`,
        series: index,
        at,
      }),
    ),
  )
  const sums = names.map((_, at) => series.reduce((sum, one) => sum + (one.values[at] ?? 0), 0))
  const bars = series.map(({ name, tone, values: parts }, index) => ({
    type: 'bar' as const,
    name,
    stack: 'all',
    barWidth: above ? 13 : pitch - 7,
    data: [...parts],
    itemStyle: {
      color: lookOf(tone).colour,
      decal: decalOf(tone),
      borderColor: scheme.paper,
      borderWidth: 0.5,
    },
    ...(ends !== undefined &&
      index === series.length - 1 && {
        label: {
          show: true,
          position: 'right' as const,
          formatter: ({ dataIndex }: { dataIndex: number }) => ends[dataIndex] ?? '',
          color: scheme.faint,
          fontSize: 11,
        },
      }),
  }))
  return {
    option: {
      ...frame(scheme),
      tooltip: { ...frame(scheme).tooltip, trigger: 'item', formatter: saying(values) },
      grid: { left, right: ends ? 58 : 16, top: above ? 46 : 38, bottom: 6 },
      xAxis: {
        ...valueAxis(axis, scheme),
        position: 'top',
        nameLocation: 'middle',
        nameGap: above ? 30 : 26,
        axisLabel: { color: scheme.faint, fontSize: 11, margin: above ? 10 : 4, hideOverlap: true },
        max: chart.most ?? roundUp(Math.max(0, ...sums)),
      },
      yAxis: {
        ...nameAxis(names, scheme),
        inverse: true,
        axisLabel: {
          color: scheme.ink,
          fontSize: 12,
          ...(above
            ? { inside: true, margin: 0, width: width - 20, padding: [0, 0, 26, 0] }
            : { width: left - 14 }),
          overflow: 'truncate',
          interval: 0,
          formatter: (name: string, index: number) => (marked.has(index) ? `{near|${name}}` : name),
          rich: { near: { fontWeight: 'bold', fontSize: 12, color: scheme.ink } },
        },
      },
      series: bars,
    },
    height: names.length * pitch + (above ? 60 : 52),
    legend: series.length > 1 ? series.map(({ tone, name }) => ({ tone, name })) : [],
    values,
  }
}

/** The next round end of an axis. */
function roundUp(value: number): number | undefined {
  if (!(value > 0)) return undefined
  const power = 10 ** Math.floor(Math.log10(value))
  return [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10].map(f => f * power).find(end => end >= value)
}
