import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { mean } from '../../sim/stats/summary.ts'
import { mser, mser5 } from '../../sim/stats/warm-up-cut.ts'
import { relativelyCloseTo } from '../close.ts'

/** The definition word by word, without the running sums. */
function byDefinition(values: readonly number[], d: number): number {
  const kept = values.slice(d)
  return kept.reduce((sum, y) => sum + (y - mean(kept)) ** 2, 0) / kept.length ** 2
}

describe('mser5', () => {
  it('cuts a start that differs from an even rest, to the batch', () => {
    const rest = Array.from({ length: 180 }, (_, i) => 10 + (i % 2))
    expect(mser5([...new Array(20).fill(0), ...rest])).toMatchObject({ observations: 20, settled: true })
    expect(mser5([...new Array(18).fill(0), 10, 11, ...rest])).toMatchObject({ observations: 20 })
  })

  it('cuts nothing off equal values, even when five of them do not add up exactly', () => {
    for (const value of [0.1, 1 / 3, 1200.7, 0])
      expect(mser5(new Array(100).fill(value))).toMatchObject({ observations: 0, settled: true })
  })

  it('does not use the observations left over', () => {
    const series = Array.from({ length: 50 }, (_, i) => Math.sin(i) + 5 * Math.exp(-i / 4))
    expect(mser5([...series, 1e9, -1e9, 1e9])).toEqual(mser5(series))
  })

  it.each([0, 4, 9, 14])('is not settled with %i observations', count => {
    expect(mser5(Array.from({ length: count }, (_, i) => i)).settled).toBe(false)
  })

  it('has no statistic without a batch', () => {
    expect(mser5([1, 2, 3])).toEqual({ batches: 0, observations: 0, statistic: NaN, settled: false })
  })
})

describe('mser', () => {
  it('is the least of the definition over the first half', () => {
    const series = fc.array(fc.double({ min: -1000, max: 1000, noNaN: true }), {
      minLength: 2,
      maxLength: 60,
    })
    fc.assert(
      fc.property(series, values => {
        const all = Array.from({ length: Math.floor(values.length / 2) + 1 }, (_, d) =>
          byDefinition(values, d),
        )
        const { cut, statistic } = mser(values)
        expect(Math.abs(statistic - Math.min(...all))).toBeLessThan(1e-8)
        expect(Math.abs(statistic - all[cut])).toBeLessThan(1e-8)
      }),
      { numRuns: 300, seed: 9 },
    )
  })

  it('keeps its digits on values that share their leading ones', () => {
    const values = [5, 3, 0.1, 0.3, 0.2, 0.1, 0.3, 0.2, 0.1, 0.3]
    const moved = values.map(value => value + 2 ** 20)
    expect(mser(moved).cut).toBe(mser(values).cut)
    relativelyCloseTo(mser(moved).statistic, mser(values).statistic, 1e-8)
  })
})
