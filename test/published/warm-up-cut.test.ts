import { describe, expect, it } from 'vitest'
import { batchMeans } from '../../sim/stats/batch-means.ts'
import { mean } from '../../sim/stats/summary.ts'
import { mser, mser5 } from '../../sim/stats/warm-up-cut.ts'
import { relativelyCloseTo } from '../close.ts'
import series from './data/mser5-series.json' with { type: 'json' }

/** Definition: White (1997), Simulation 69; Spratt (1998). Figures by arithmetic from it. */
describe('MSER-5', () => {
  it('cuts 40 of 100 values of a decaying series', () => {
    const cut = mser5(series.values)
    expect(cut).toMatchObject({ batches: 8, observations: 40, settled: true })
    relativelyCloseTo(cut.statistic, 0.006149907407407409, 1e-8)
    relativelyCloseTo(mean(series.values), 22.5304, 1e-8)
    relativelyCloseTo(mean(series.values.slice(cut.observations)), 20.003333333333334, 1e-8)
  })

  it('has the listed batch means and statistic at every cut', () => {
    const means = batchMeans(series.values, 20)
    for (const [d, expected] of series.statistics.entries()) {
      relativelyCloseTo(means[d], series.batchMeans[d], 1e-12)
      const kept = means.slice(d)
      const squares = kept.reduce((sum, y) => sum + (y - mean(kept)) ** 2, 0)
      relativelyCloseTo(squares / kept.length ** 2, expected, 1e-8)
    }
    expect(mser(means).cut).toBe(8)
    relativelyCloseTo(mser(means).statistic, Math.min(...series.statistics.slice(0, 11)), 1e-8)
  })

  it('unbatched cuts 23 values of the same series', () => {
    expect(mser(series.values).cut).toBe(23)
  })

  it('cuts nothing off 50 equal values', () => {
    expect(mser5(new Array(50).fill(7))).toEqual({ batches: 0, observations: 0, statistic: 0, settled: true })
  })

  it('is not settled on a trend: the least statistic is at the half-way bound', () => {
    const cut = mser5(Array.from({ length: 50 }, (_, i) => i))
    expect(cut).toMatchObject({ batches: 5, settled: false })
    // m equally spaced means, 5 apart: 25 (m^2 - 1) / (12 m), here m = 5.
    relativelyCloseTo(cut.statistic, (25 * 24) / (12 * 5), 1e-12)
  })
})
