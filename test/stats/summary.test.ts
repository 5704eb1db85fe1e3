import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { quantile, sortedQuantile } from '../../sim/stats/quantile.ts'
import { lag1Autocorrelation, mean, standardDeviation } from '../../sim/stats/summary.ts'
import { relativelyCloseTo } from '../close.ts'

const numbers = (least: number) =>
  fc.array(fc.double({ min: -1e9, max: 1e9, noNaN: true }), { minLength: least, maxLength: 50 })

describe('mean', () => {
  it('of ten times 0.1 is 0.1', () => {
    // Compensated sum as d3-array, test/fsum-test.js, has it: 1 exactly.
    expect(mean(new Array(10).fill(0.1))).toBe(0.1)
  })

  it('keeps what a large value would swallow', () => {
    expect(mean([1e16, 1, -1e16, 1])).toBe(0.5)
  })

  it('lies between the least and the largest', () => {
    fc.assert(
      fc.property(numbers(1), values => {
        expect(mean(values)).toBeGreaterThanOrEqual(Math.min(...values))
        expect(mean(values)).toBeLessThanOrEqual(Math.max(...values))
      }),
      { seed: 7 },
    )
  })

  it('of nothing is a mistake', () => expect(() => mean([])).toThrow(RangeError))
})

describe('standard deviation', () => {
  it('of 1, 2, 3, 4 is sqrt(5/3)', () => {
    relativelyCloseTo(standardDeviation([1, 2, 3, 4]), Math.sqrt(5 / 3), 1e-15)
  })

  it('of equal values is 0, not a rounding error', () => {
    expect(standardDeviation(new Array(1000).fill(0.1))).toBe(0)
  })

  it('of one value is a mistake', () => expect(() => standardDeviation([1])).toThrow(RangeError))
})

describe('lag-1 autocorrelation', () => {
  it('of 1, -1, 1, -1 is -3/4', () => expect(lag1Autocorrelation([1, -1, 1, -1])).toBe(-0.75))

  it('of equal values is not a number', () => expect(lag1Autocorrelation([2, 2, 2])).toBeNaN())
})

describe('quantile', () => {
  it('is a value where one lies there, and between two where none does', () => {
    expect([0, 0.25, 0.5, 0.75, 1].map(p => quantile([40, 10, 30, 20, 50], p))).toEqual([10, 20, 30, 40, 50])
    expect(quantile([1, 2], 0.25)).toBe(1.25)
    expect(quantile([3], 0.9)).toBe(3)
  })

  it('leaves the list as it was and takes typed arrays', () => {
    const values = [3, 1, 2]
    quantile(values, 0.5)
    expect(values).toEqual([3, 1, 2])
    expect(quantile(Float64Array.of(3, 1, 2), 0.5)).toBe(2)
  })

  it('rises with p and does not care about the order', () => {
    fc.assert(
      fc.property(
        numbers(1),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, p, q) => {
          const sorted = [...values].sort((a, b) => a - b)
          expect(quantile([...values].reverse(), p)).toBe(sortedQuantile(sorted, p))
          expect(quantile(values, Math.max(p, q))).toBeGreaterThanOrEqual(
            quantile(values, Math.min(p, q)) - 1e-6,
          )
        },
      ),
      { seed: 8 },
    )
  })

  it('of nothing, or beyond 0 and 1, is a mistake', () => {
    expect(() => quantile([], 0.5)).toThrow(RangeError)
    for (const p of [-0.1, 1.1, NaN]) expect(() => quantile([1], p)).toThrow(RangeError)
  })
})
