import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { batchMeans } from '../../sim/stats/batch-means.ts'
import { bonferroniLevel } from '../../sim/stats/bonferroni.ts'
import { type Estimate, estimate, halfWidth, relativeHalfWidth } from '../../sim/stats/estimate.ts'
import { pairedDifference } from '../../sim/stats/paired.ts'
import { studentFactor } from '../../sim/stats/student.ts'
import { relativelyCloseTo } from '../close.ts'

describe('estimate', () => {
  it('of 1, 2, 3: 2 +- t s / sqrt 3', () => {
    const found = estimate([1, 2, 3], 0.95)
    // t(0.975, 2) = 4.302652729749462, any Student table.
    relativelyCloseTo(halfWidth(found) ?? NaN, 4.302652729749462 / Math.sqrt(3), 1e-12)
    expect(found.mean).toBe(2)
    expect(found.n).toBe(3)
  })

  it('of one value has no interval at all', () => {
    expect(estimate([7], 0.95)).toStrictEqual({ mean: 7, n: 1 })
    expect(halfWidth({ mean: 7, n: 1 })).toBeUndefined()
    expect(relativeHalfWidth({ mean: 7, n: 1 })).toBeUndefined()
  })

  it('of equal values has an interval without width', () => {
    expect(estimate([0.1, 0.1, 0.1], 0.99)).toStrictEqual({ mean: 0.1, low: 0.1, high: 0.1, n: 3 })
    expect(relativeHalfWidth(estimate([0, 0], 0.99))).toBe(0)
  })

  it('of nothing, or at no level, is a mistake', () => {
    expect(() => estimate([], 0.95)).toThrow(RangeError)
    for (const level of [0, 1, 95, NaN]) expect(() => estimate([1, 2], level)).toThrow(RangeError)
  })

  it('is wider at a higher level and as wide again around moved and scaled values', () => {
    const numbers = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), {
      minLength: 2,
      maxLength: 30,
    })
    fc.assert(
      fc.property(numbers, values => {
        const width = (list: readonly number[], level: number) => halfWidth(estimate(list, level)) ?? NaN
        const here = width(values, 0.95)
        expect(width(values, 0.99)).toBeGreaterThanOrEqual(here)
        expect(
          Math.abs(
            width(
              values.map(value => 5 - 2 * value),
              0.95,
            ) -
              2 * here,
          ),
        ).toBeLessThan(1e-7)
      }),
      { numRuns: 200, seed: 6 },
    )
  })

  it('relative to the size of its mean, whatever its sign', () => {
    relativelyCloseTo(relativeHalfWidth({ mean: -50, low: -51, high: -49, n: 4 }) ?? NaN, 0.02, 1e-12)
    expect(relativeHalfWidth({ mean: 0, low: -1, high: 1, n: 4 })).toBe(Infinity)
  })
})

describe('Student factor', () => {
  it('of one degree of freedom is that of the Cauchy law: tan(pi level / 2)', () => {
    for (const level of [0.5, 0.9, 0.95, 0.999])
      relativelyCloseTo(studentFactor(level, 1), Math.tan((Math.PI * level) / 2), 1e-12)
  })

  it('falls to the normal 1.959963984540054 with many degrees of freedom', () => {
    // Normal table; the next term of the expansion is z (z^2 + 1) / (4 df), Abramowitz & Stegun 26.7.5.
    const normal = 1.959963984540054
    relativelyCloseTo(studentFactor(0.95, 1e6), normal + (normal * (normal ** 2 + 1)) / 4e6, 1e-11)
    expect(studentFactor(0.95, 10)).toBeGreaterThan(studentFactor(0.95, 11))
  })

  it('needs a degree of freedom', () => expect(() => studentFactor(0.95, 0)).toThrow(RangeError))
})

describe('paired difference', () => {
  it('is the estimate of the differences, changed less base', () => {
    const found: Estimate = pairedDifference([12, 15, 20], [10, 14, 17], 0.9)
    expect(found).toEqual(estimate([2, 1, 3], 0.9))
    expect(found.mean).toBe(2)
  })

  it('of runs that move together is sharper than the runs are', () => {
    const base = [100, 120, 90, 130, 80]
    const changed = [103, 122, 93, 132, 82]
    const sharp = halfWidth(pairedDifference(changed, base, 0.95)) ?? NaN
    expect(sharp).toBeLessThan((halfWidth(estimate(base, 0.95)) ?? NaN) / 20)
  })

  it('of unequal lists is a mistake', () => {
    expect(() => pairedDifference([1, 2], [1], 0.95)).toThrow('not 2 and 1')
  })
})

describe('Bonferroni level', () => {
  it('shares the error among the comparisons', () => {
    relativelyCloseTo(bonferroniLevel(0.95, 10), 0.995, 1e-14)
    expect(bonferroniLevel(0.9, 1)).toBe(0.9)
  })

  it.each([0, -1, 1.5, NaN])('%d comparisons are a mistake', comparisons =>
    expect(() => bonferroniLevel(0.95, comparisons)).toThrow(RangeError),
  )
})

describe('batch means', () => {
  it('leave out what does not fill the last batch', () => {
    expect(batchMeans([1, 3, 5, 7, 100], 2)).toEqual([2, 6])
  })

  it('need a value for each batch', () => {
    expect(() => batchMeans([1, 2], 3)).toThrow('2 observations do not fill 3 batches')
  })
})
