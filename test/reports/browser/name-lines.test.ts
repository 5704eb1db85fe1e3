import { expect, it } from 'vitest'
import { barsPlot } from '../../../reports/browser/bars-plot.ts'
import { nameLines, widthOfNames } from '../../../reports/browser/name-lines.ts'
import { rangesPlot } from '../../../reports/browser/ranges-plot.ts'

const scheme = { font: 'sans-serif', ink: '#000', faint: '#666', rule: '#ccc', paper: '#fff', shade: '#eee' }

it('names of a kind are told apart in a narrow window, those that are long on several lines', () => {
  const steps = ['texture', 'laser', 'front print', 'regenerate']
  const alone = steps.map(step => `one more tool of ${step}`)
  const names = [...alone, ...alone.map(name => `${name} and one more technician at night`)]
  const of = (names: readonly string[]) =>
    rangesPlot(
      {
        kind: 'ranges',
        title: '',
        names,
        axis: { label: 'gain', unit: 'cells/h' },
        from: 'zero',
        values: names.map(() => 1),
        low: names.map(() => 0),
        high: names.map(() => 2),
        tones: names.map(() => 'shown'),
        tonesMean: [],
      },
      scheme,
      340,
    )
  expect(labelsOf(of(alone), alone)).toEqual(steps.map(step => `one more tool\nof ${step}`))
  const labels = labelsOf(of(names), names)
  expect(labels.map(label => label.replaceAll('\n', ' '))).toEqual(names)
  // 36 % of 340 px, less the gap to the axis, hold 14 characters of 7.3 px; the lines of a name stand apart from those of the next.
  for (const label of labels)
    for (const line of label.split('\n')) expect(line.length).toBeLessThanOrEqual(14)
  const most = Math.max(...labels.map(label => label.split('\n').length))
  expect(of(names).height / names.length).toBeGreaterThan(most * 14)
})

it('a name too long for all that loses its middle', () => {
  const numbered = Array.from({ length: 9 }, (_, n) => `word-${n}`).join(' ')
  expect(nameLines(numbered, 60)).toEqual(['word-0', 'word-1', '…', 'word-6', 'word-7', 'word-8'])
  expect(nameLines('Nassbankbeckenwechsel', 80)).toEqual(['Nassb…hsel'])
})

it('a name of ten letters is whole where there is room for it', () => {
  const { option } = barsPlot(
    {
      kind: 'bars',
      title: '',
      names: ['regenerate', 'test'],
      series: [{ name: 'productive', tone: 'productive', values: [1, 2] }],
      axis: { label: 'share', unit: '%' },
    },
    scheme,
    900,
  )
  // A bold letter of 12 px is up to 7.3 px wide on average in the fonts of a page (measured: DejaVu Sans).
  expect((option.yAxis as { axisLabel: { width: number } }).axisLabel.width).toBeGreaterThanOrEqual(73)
})

function labelsOf({ option }: { option: object }, names: readonly string[]): string[] {
  const [axis] = (option as { yAxis: { axisLabel: { formatter: (name: string, at: number) => string } }[] })
    .yAxis
  return names.map((name, at) => axis?.axisLabel.formatter(name, at) ?? '')
}

it('a name stays on one line where the room is that of the longest name', () => {
  for (let length = 6; length <= 80; length++) {
    const name = `${'a'.repeat(length - 3)} %b`
    expect(nameLines(name, widthOfNames([name]))).toEqual([name])
  }
})
