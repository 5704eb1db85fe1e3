import type { PointsChart } from '../view/page.ts'
import { frame, type Plot, saying, shown, type Value, valueAxis } from './chart-frame.ts'
import type { Scheme } from './scheme.ts'
import { lookOf, symbolOf } from './tones.ts'
import { whiskers } from './whiskers.ts'

/** Named points in a plane. */
export function pointsPlot(chart: PointsChart, scheme: Scheme, width: number): Plot {
  const { x, y, points, level } = chart
  const values = points.map((point, at): Value => {
    const range =
      point.low === undefined || point.high === undefined
        ? ''
        : ` (${shown(point.low)} to ${shown(point.high)})`
    return {
      words: `${point.name}: ${shown(point.x)} ${x.unit}, ${shown(point.y)} ${y.unit}${range}`,
      series: 0,
      at,
    }
  })
  return {
    option: {
      ...frame(scheme),
      tooltip: { ...frame(scheme).tooltip, trigger: 'item', formatter: saying(values) },
      grid: { left: 68, right: width < 600 ? 16 : 28, top: 34, bottom: 46 },
      xAxis: { ...valueAxis(x, scheme), scale: true, nameLocation: 'middle', nameGap: 28 },
      yAxis: {
        ...valueAxis(y, scheme),
        scale: true,
        nameLocation: 'end',
        nameGap: 12,
        nameTextStyle: { color: scheme.faint, align: 'left', padding: [0, 0, 0, -62] },
      },
      series: [
        {
          type: 'scatter',
          z: 6,
          data: points.map(point => ({
            value: [point.x, point.y],
            symbol: symbolOf(point.tone),
            symbolSize: point.tone === 'chosen' ? 18 : 9,
            itemStyle: { color: lookOf(point.tone).colour, opacity: 1 },
            ...(point.tone === 'chosen' && {
              label: { show: true, formatter: 'chosen', position: 'right', color: scheme.ink },
            }),
          })),
          ...(level && {
            markLine: {
              silent: true,
              symbol: 'none',
              lineStyle: { color: scheme.ink, type: 'dashed', width: 1 },
              data: [
                {
                  yAxis: level.value,
                  label: { formatter: level.label, position: 'insideStartTop', color: scheme.ink },
                },
              ],
            },
          }),
        },
        whiskers(
          'upright',
          points.map(({ low }) => low),
          points.map(({ high }) => high),
          scheme,
          points.map(point => point.x),
        ),
      ],
    },
    height: 320,
    legend: chart.tonesMean.map(entry => ({ ...entry, symbol: symbolOf(entry.tone) })),
    values,
  }
}
