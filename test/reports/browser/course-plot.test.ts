import { expect, it } from 'vitest'
import { coursePlot } from '../../../reports/browser/course-plot.ts'

const scheme = { font: 'sans-serif', ink: '#000', faint: '#666', rule: '#ccc', paper: '#fff', shade: '#eee' }

it.each<[string, number[], 'zero' | 'the data', number | undefined]>([
  ['whole values, as heads are, have whole ticks', [1, 2, 3], 'the data', 1],
  ['others need not', [1.5, 2, 3], 'the data', undefined],
  ['nor does the course of a run', [1, 2, 3], 'zero', undefined],
])('%s', (_, values, from, minInterval) => {
  const { option } = coursePlot(
    {
      kind: 'course',
      form: 'lines',
      title: '',
      from,
      x: { label: 'heads', unit: '', values },
      y: { label: 'good output', unit: 'cells/h' },
      series: [{ name: 'good output', tone: 'productive' as const, values }],
    },
    scheme,
    800,
  )
  expect((option.xAxis as { minInterval?: number }).minInterval).toBe(minInterval)
})
