import type { ColumnsChart } from '../view/page.ts'
import { frame, nameAxis, type Plot, saying, shown, type Value, valueAxis } from './chart-frame.ts'
import type { Scheme } from './scheme.ts'
import { lookOf } from './tones.ts'
import { whiskers } from './whiskers.ts'

/** Upright columns, with whiskers where there are any. */
export function columnsPlot(chart: ColumnsChart, scheme: Scheme, width: number): Plot {
  const { x, y, names, edges, low, high } = chart
  const range = (at: number) => {
    const [from, to] = [low?.[at], high?.[at]]
    return from === undefined || to === undefined ? '' : ` (${shown(from)} to ${shown(to)})`
  }
  const values = names.map(
    (name, at): Value => ({
      words: `${name} ${x.unit}: ${shown(chart.values[at] ?? 0)} ${y.unit}${range(at)}`,
      series: 0,
      at,
    }),
  )
  return {
    option: {
      ...frame(scheme),
      tooltip: { ...frame(scheme).tooltip, trigger: 'item', formatter: saying(values) },
      grid: { left: 52, right: width < 600 ? 14 : 24, top: 34, bottom: 44 },
      xAxis: {
        ...(edges ? edgeAxis(edges, scheme) : nameAxis(names, scheme)),
        name: `${x.label} [${x.unit}]`,
        nameLocation: 'middle',
        nameGap: 26,
        nameTextStyle: { color: scheme.faint, fontSize: 12 },
        axisLabel: { color: scheme.faint, fontSize: 11, hideOverlap: true },
      },
      yAxis: {
        ...valueAxis(y, scheme),
        min: 0,
        nameLocation: 'end',
        nameGap: 12,
        nameTextStyle: { color: scheme.faint, align: 'left', padding: [0, 0, 0, -46] },
      },
      series: [
        {
          type: 'bar',
          barCategoryGap: edges ? '4%' : '12%',
          data: edges ? chart.values.map((value, at) => [middle(edges, at), value]) : [...chart.values],
          itemStyle: { color: lookOf('productive').colour },
          ...marks(chart, scheme),
        },
        ...(low && high ? [whiskers('upright', low, high, scheme)] : []),
      ],
    },
    height: 280,
    legend: [],
    values,
  }
}

/** An axis of numbers from the first edge to the last. */
function edgeAxis(edges: readonly number[], scheme: Scheme) {
  return {
    type: 'value' as const,
    min: edges[0],
    max: edges[edges.length - 1],
    splitLine: { show: false },
    axisLine: { show: true, lineStyle: { color: scheme.rule } },
    axisTick: { show: true, lineStyle: { color: scheme.rule } },
  }
}

function middle(edges: readonly number[], at: number): number {
  return ((edges[at] ?? 0) + (edges[at + 1] ?? 0)) / 2
}

function marks({ marks: list }: ColumnsChart, scheme: Scheme) {
  if (list === undefined) return {}
  return {
    markLine: {
      silent: true,
      symbol: 'none',
      lineStyle: { color: scheme.ink, width: 1, type: 'dashed' },
      data: list.map(({ at, label }) => ({
        xAxis: at,
        label: { formatter: label, position: 'end', color: scheme.ink, fontSize: 11 },
      })),
    },
  }
}
