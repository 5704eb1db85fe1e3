import { BarChart, CustomChart, LineChart, ScatterChart } from 'echarts/charts'
import { GridComponent, MarkAreaComponent, MarkLineComponent, TooltipComponent } from 'echarts/components'
import { type EChartsType, init, use } from 'echarts/core'
import { SVGRenderer } from 'echarts/renderers'
import type { Chart } from '../view/page.ts'
import { barsPlot } from './bars-plot.ts'
import { browse } from './browse.ts'
import type { Plot } from './chart-frame.ts'
import { columnsPlot } from './columns-plot.ts'
import { coursePlot } from './course-plot.ts'
import { found } from './elements.ts'
import { whenNear } from './near.ts'
import { widthFor } from './paper.ts'
import { redrawOnWidth } from './picture.ts'
import { pointsPlot } from './points-plot.ts'
import { rangesPlot } from './ranges-plot.ts'
import { onScheme, type Scheme, schemeNow } from './scheme.ts'
import { fillLegend } from './tones.ts'

use([
  ...[BarChart, LineChart, ScatterChart, CustomChart],
  ...[GridComponent, TooltipComponent, MarkAreaComponent, MarkLineComponent],
  SVGRenderer,
])

/** Draws each chart when it comes near the window, and all of them before the page is printed. */
export function startCharts(charts: Readonly<Record<string, Chart>>): void {
  for (const [id, chart] of Object.entries(charts)) {
    const place = found(document, `[data-chart="${id}"]`)
    // Keeps its height before it is drawn, so that links within the page lead to the right place.
    setHeight(found(place, '.canvas'), plotOf(chart, schemeNow(), place.clientWidth).height)
    whenNear(place, () => mount(place, chart))
  }
}

function plotOf(chart: Chart, scheme: Scheme, width: number): Plot {
  switch (chart.kind) {
    case 'bars':
      return barsPlot(chart, scheme, width)
    case 'course':
      return coursePlot(chart, scheme, width)
    case 'columns':
      return columnsPlot(chart, scheme, width)
    case 'ranges':
      return rangesPlot(chart, scheme, width)
    case 'points':
      return pointsPlot(chart, scheme, width)
  }
}

function mount(place: HTMLElement, chart: Chart): void {
  const canvas = found(place, '.canvas')
  let drawn: EChartsType | undefined
  let plot = plotOf(chart, schemeNow(), canvas.clientWidth)
  const draw = (width: number) => {
    plot = plotOf(chart, schemeNow(), width)
    setHeight(canvas, plot.height)
    fillLegend(found(place, '.legend'), plot.legend)
    if (drawn) drawn.resize({ width, height: plot.height })
    else drawn = init(canvas, null, { renderer: 'svg', width, height: plot.height })
    drawn.setOption(plot.option, true)
  }
  redrawOnWidth(canvas, draw)
  onScheme(() => draw(widthFor(canvas)))
  browse(canvas, found(place, '.readout'), {
    count: () => plot.values.length,
    show: index => {
      const value = plot.values[index]
      if (value === undefined) drawn?.dispatchAction({ type: 'hideTip' })
      else {
        bringUp(canvas, index / plot.values.length)
        drawn?.dispatchAction({ type: 'showTip', seriesIndex: value.series, dataIndex: value.at })
      }
    },
    words: index => plot.values[index]?.words ?? '',
    leap: () => (chart.kind === 'bars' ? chart.series.length : 1),
  })
}

/** The style rules let a very tall chart scroll within its place, but not on paper. */
function setHeight(canvas: HTMLElement, height: number): void {
  canvas.style.setProperty('--whole', `${height}px`)
}

/** Scrolls a tall chart to the value that keys have reached: so far down as it is along the values. */
function bringUp(canvas: HTMLElement, along: number): void {
  if (canvas.scrollHeight <= canvas.clientHeight) return
  canvas.scrollTop = along * canvas.scrollHeight - canvas.clientHeight / 2
}
