import type { RangesChart } from '../view/page.ts'
import { frame, nameAxis, type Plot, saying, shown, type Value, valueAxis } from './chart-frame.ts'
import { LINE_HEIGHT, nameLines, widthOfNames } from './name-lines.ts'
import type { Scheme } from './scheme.ts'
import { lookOf, symbolOf } from './tones.ts'
import { whiskers } from './whiskers.ts'

const PITCH = 26

/** A dot and whiskers per name, with zero drawn in. */
export function rangesPlot(chart: RangesChart, scheme: Scheme, width: number): Plot {
  const { names, axis, low, high, tones, ends } = chart
  const left = Math.min(widthOfNames(names) + 14, Math.max(110, width * (width < 600 ? 0.36 : 0.34)))
  const lines = names.map(name => nameLines(name, left - 14))
  const pitch = Math.max(PITCH, LINE_HEIGHT * Math.max(...lines.map(({ length }) => length)) + 8)
  const values = names.map((name, at): Value => {
    const [from, to] = [low[at], high[at]]
    const range = from === undefined || to === undefined ? '' : ` (${shown(from)} to ${shown(to)})`
    const end = ends?.[at] ? `; ${ends[at]}` : ''
    return { words: `${name}: ${shown(chart.values[at] ?? 0)} ${axis.unit}${range}${end}`, series: 0, at }
  })
  return {
    option: {
      ...frame(scheme),
      tooltip: { ...frame(scheme).tooltip, trigger: 'item', formatter: saying(values) },
      grid: { left, right: ends ? (width < 600 ? 84 : 130) : 20, top: 38, bottom: 6 },
      xAxis: {
        ...valueAxis(axis, scheme),
        scale: chart.from === 'the data',
        position: 'top',
        nameLocation: 'middle',
        nameGap: 26,
        axisLabel: { color: scheme.faint, fontSize: 11, margin: 4, hideOverlap: true },
      },
      yAxis: [
        {
          ...nameAxis(names, scheme),
          inverse: true,
          axisLine: { show: false },
          splitLine: { show: true, lineStyle: { color: scheme.rule } },
          axisLabel: {
            color: scheme.ink,
            lineHeight: LINE_HEIGHT,
            interval: 0,
            formatter: (name: string, index: number) => lines[index]?.join('\n') ?? name,
          },
        },
        ...(ends
          ? [
              {
                ...nameAxis(ends, scheme),
                inverse: true,
                position: 'right',
                axisLine: { show: false },
                axisLabel: { color: scheme.faint, fontSize: 11, interval: 0 },
              },
            ]
          : []),
      ],
      series: [
        {
          type: 'scatter',
          symbolSize: 10,
          data: chart.values.map((value, at) => ({
            value: [value, at],
            symbol: symbolOf(tones[at] ?? ''),
            itemStyle: { color: lookOf(tones[at] ?? '').colour, opacity: 1 },
          })),
          z: 6,
          ...(chart.from === 'zero' && { markLine: zeroLine(scheme) }),
        },
        whiskers('across', low, high, scheme),
      ],
    },
    height: names.length * pitch + 52,
    legend: chart.tonesMean.map(entry => ({ ...entry, symbol: symbolOf(entry.tone) })),
    values,
  }
}

function zeroLine(scheme: Scheme) {
  return {
    silent: true,
    symbol: 'none',
    label: { show: false },
    lineStyle: { color: scheme.ink, type: 'solid' as const, width: 1 },
    data: [{ xAxis: 0 }],
  }
}
