import type { CourseChart } from '../view/page.ts'
import { frame, harmless, type Plot, shown, type Value, valueAxis } from './chart-frame.ts'
import type { Scheme } from './scheme.ts'
import { decalOf, lookOf } from './tones.ts'
import { whiskers } from './whiskers.ts'

/** Lines or stacked areas over time. */
export function coursePlot(chart: CourseChart, scheme: Scheme, width: number): Plot {
  const { x, y, series, form, ranges } = chart
  const free = chart.from === 'the data'
  const words = (at: number) => {
    const sum = series.reduce((total, one) => total + (one.values[at] ?? 0), 0)
    const parts = series.map(one => `${one.name} ${shown(one.values[at] ?? 0)}`)
    const all = form === 'areas' && series.length > 1 ? `; in all ${shown(sum)}` : ''
    const [low, high] = [ranges?.low[at], ranges?.high[at]]
    const range = low === undefined || high === undefined ? '' : ` (${shown(low)} to ${shown(high)})`
    return `${shown(x.values[at] ?? 0)} ${x.unit}: ${parts.join(', ')}${all} ${y.unit}${range}`
  }
  const values = x.values.map((_, at): Value => ({ words: words(at), series: 0, at }))
  const last = x.values[x.values.length - 1] ?? 1
  return {
    option: {
      ...frame(scheme),
      tooltip: {
        ...frame(scheme).tooltip,
        trigger: 'axis',
        axisPointer: { type: 'line', lineStyle: { color: scheme.ink } },
        formatter: (given: readonly { dataIndex: number }[]) => harmless(words(given[0]?.dataIndex ?? 0)),
      },
      grid: { left: 62, right: width < 600 ? 14 : 24, top: 34, bottom: 44 },
      xAxis: {
        ...valueAxis(x, scheme),
        ...(free ? { scale: true } : { min: 0, max: last }),
        // Heads and places are whole, and so are their ticks.
        ...(free && x.values.every(Number.isInteger) ? { minInterval: 1 } : {}),
        nameLocation: 'middle',
        nameGap: 26,
        splitLine: { show: false },
        axisLine: { show: true, lineStyle: { color: scheme.rule } },
      },
      yAxis: {
        ...valueAxis(y, scheme),
        ...(free ? { scale: true } : { min: 0 }),
        nameLocation: 'end',
        nameGap: 12,
        nameTextStyle: { color: scheme.faint, align: 'left', padding: [0, 0, 0, -56] },
      },
      series: [
        ...series.map((one, index) => ({
          type: 'line' as const,
          name: one.name,
          data: one.values.map((value, at) => [x.values[at] ?? 0, value]),
          showSymbol: ranges !== undefined,
          symbol: 'circle',
          symbolSize: 7,
          lineStyle: { width: form === 'areas' ? 1 : 1.8, color: lookOf(one.tone).colour },
          itemStyle: {
            color: lookOf(one.tone).colour,
            decal: form === 'areas' ? decalOf(one.tone) : undefined,
          },
          ...(form === 'areas' && {
            stack: 'all',
            areaStyle: { color: lookOf(one.tone).colour, opacity: 1 },
          }),
          ...(index === 0 && marks(chart, scheme)),
        })),
        ...(ranges ? [whiskers('upright', ranges.low, ranges.high, scheme, x.values)] : []),
      ],
    },
    height: form === 'areas' ? 330 : 280,
    legend: series.length > 1 ? series.map(({ tone, name }) => ({ tone, name })) : [],
    values,
  }
}

/** What is drawn across: the time that does not count, and levels. */
function marks({ shaded, levels = [], uprights = [] }: CourseChart, scheme: Scheme) {
  return {
    ...(shaded && {
      markArea: {
        silent: true,
        itemStyle: { color: scheme.shade, opacity: 1 },
        label: { color: scheme.faint, position: 'insideTop', fontSize: 11 },
        data: [[{ name: shaded.label, xAxis: 0 }, { xAxis: shaded.to }]],
      },
    }),
    ...(levels.length + uprights.length > 0 && {
      markLine: {
        silent: true,
        symbol: 'none',
        lineStyle: { color: scheme.ink, width: 1 },
        data: [
          ...uprights.map(({ value, label }) => ({
            xAxis: value,
            lineStyle: { type: 'dashed' },
            label: { formatter: label, position: 'end', color: scheme.ink, fontSize: 11 },
          })),
          ...levels.map(({ value, label }, index) => ({
            yAxis: value,
            lineStyle: { type: index === 0 ? 'solid' : 'dashed' },
            label: {
              formatter: label,
              // The higher of two levels is written above its line, the lower below.
              position: levels.some(other => other.value < value) ? 'insideEndTop' : 'insideEndBottom',
              color: scheme.ink,
              fontSize: 11,
              backgroundColor: scheme.paper,
              padding: [1, 4],
            },
          })),
        ],
      },
    }),
  }
}
