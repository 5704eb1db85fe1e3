import gammainc from '@stdlib/math-base-special-gammainc'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { expect, it } from 'vitest'
import { Ahead } from '../../sim/chance/ahead.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { Wafers } from '../../sim/engine/wafers.ts'
import { checkLine } from '../../sim/line/check.ts'
import { compile } from '../../sim/plan/compile.ts'

const BINS = 20
const { line } = checkLine({
  line: 'what scatters',
  wafer: { area: '330 cm2', efficiency: { mean: '22.9 %', sd: '0.1 %' } },
  bins: { first: '22.4 %', width: '0.06 %', count: BINS },
  route: [
    { step: 'texture', cycle: '1 s', effect: { shift: '0.2 %', sd: '0.2 %' } },
    { step: 'print', belt: { spacing: '1 s', transit: '9 s' }, effect: { shift: '-0.1 %', sd: '0.05 %' } },
    { buffer: 'before test', capacity: 40 },
    { step: 'test', cycle: '1 s', test: { noise: '0.1 %' } },
  ],
})
if (!line) throw new Error('not a line')
const plan = compile(line)

it('independent normal effects of steps add up: means and variances', () => {
  const run = runToEnd(new Run(plan, 50_000e6, { seed: 'scatter', replication: 0 }, 'eager'))
  const counts = [...run.works.stations[run.works.stations.length - 1].meter.bin]
  const cells = counts.reduce((a, b) => a + b)
  expect(cells).toBeGreaterThan(49_000)
  // The sum of independent normal variables is normal, with the sum of their means and of their variances.
  const mean = 22.9 + 0.2 - 0.1
  const sd = Math.hypot(0.1, 0.2, 0.05, 0.1)
  const edge = (bin: number) => 22.4 + 0.06 * bin
  const below = (bin: number) => (bin === BINS ? 1 : normalCdf(edge(bin), mean, sd))
  // Class 0 is the low-grade box, below the first bin; above the last all fall into it.
  let statistic = (counts[0] - cells * below(0)) ** 2 / (cells * below(0))
  for (let bin = 0; bin < BINS; bin++) {
    const expected = cells * (below(bin + 1) - below(bin))
    statistic += (counts[bin + 1] - expected) ** 2 / expected
  }
  // Pearson's test at 1 %: the law of chi-square by the incomplete gamma function of @stdlib.
  expect(gammainc(statistic / 2, BINS / 2, true, true)).toBeGreaterThan(0.01)
})

it('what has been drawn of a wafer stays, until a step makes it scatter again', () => {
  const wafers = new Wafers(plan, 'scatter', 0)
  const scores = new Ahead(openStream('scatter', 0, 'scores'), 'normal')
  const same = new Ahead(openStream('scatter', 0, 'scores'), 'normal')
  const row = wafers.make()
  const made = wafers.made(row, scores)
  expect(made).toBeCloseTo(0.229 + 0.001 * same.next(), 12)
  expect(wafers.made(row, scores)).toBe(made)
  wafers.spread[row] += 4e-6
  expect(wafers.made(row, scores)).toBeCloseTo(made + 0.002 * same.next(), 12)
})
