import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Law, mean, quantile, variance } from '../../sim/chance/law.ts'
import { integrate } from '../../sim/stats/integrate.ts'
import { quantile as sampleQuantile } from '../../sim/stats/quantile.ts'
import { relativelyCloseTo } from '../close.ts'
import cutNormals from '../published/data/cut-normal-moments.json' with { type: 'json' }
import { CONTINUOUS, FIXED, nameOf, OBSERVED, REPLAYED } from './laws.ts'

/**
 * Mean and variance by the quantile function Q: E[g(X)] is the integral of
 * g(Q(Phi(z))) phi(z) over normal scores z, up to where Phi is 1 in doubles.
 */
function byQuantile(law: Law): { mean: number; variance: number } {
  const density = (z: number) => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)
  const expected = (g: (x: number) => number) =>
    integrate(z => g(quantile(law, normalCdf(z, 0, 1))) * density(z), -8.2, 8.2)
  const centre = expected(x => x)
  return { mean: centre, variance: expected(x => (x - centre) ** 2) }
}

/** Its variance lies so far out that what is missed beyond score 8.2 shows. */
const HEAVY = new Set([nameOf({ kind: 'lognormal', mean: 0.02, cv: 3 })])

describe('mean and variance agree with the quantile function', () => {
  it.each(CONTINUOUS.map(law => [nameOf(law), law] as const))('%s', (name, law) => {
    const found = byQuantile(law)
    relativelyCloseTo(mean(law), found.mean, 1e-9)
    relativelyCloseTo(variance(law), found.variance, HEAVY.has(name) ? 1e-6 : 1e-8)
  })

  it('for any cut normal, wide or narrow, near the mean or far out', () => {
    const law = fc
      .record({
        mean: fc.double({ min: -50, max: 50, noNaN: true }),
        sd: fc.double({ min: 0.5, max: 20, noNaN: true }),
        start: fc.double({ min: -8, max: 8, noNaN: true }),
        width: fc.double({ min: 0.01, max: 8, noNaN: true }),
      })
      .map(({ mean, sd, start, width }) => ({
        kind: 'normal' as const,
        ...{ mean, sd, least: mean + start * sd, most: mean + (start + width) * sd },
      }))
    fc.assert(
      fc.property(law, law => {
        const found = byQuantile(law)
        expect(Math.abs(mean(law) - found.mean)).toBeLessThan(1e-8 * law.sd)
        relativelyCloseTo(variance(law), found.variance, 1e-6)
      }),
      { numRuns: 100, seed: 1 },
    )
  })
})

describe('cut normal', () => {
  // mpmath, see the data file.
  it.each(cutNormals.rows)('mean %d, sd %d, cut at %d and %d', (...row) => {
    const [centre, sd, least, most, expectedMean, expectedVariance] = row
    const law = {
      kind: 'normal' as const,
      ...{ mean: Number(centre), sd: Number(sd), least: least ?? -Infinity, most: most ?? Infinity },
    }
    relativelyCloseTo(mean(law), Number(expectedMean), 1e-12)
    // Far from the mean the closed form loses some digits.
    relativelyCloseTo(variance(law), Number(expectedVariance), 1e-10)
  })

  it('throws when nothing is left', () => {
    const law = { kind: 'normal', mean: 0, sd: 1, least: 50, most: 60 } as const
    expect(() => mean(law)).toThrow(RangeError)
    expect(() => quantile(law, 0.5)).toThrow('nothing between 50 and 60')
  })
})

describe('geometric', () => {
  it.each([
    { mean: 1, step: 1 },
    { mean: 3, step: 1 },
    { mean: 90, step: 60 },
    { mean: 40, step: 2.5 },
  ])('mean $mean in steps of $step: moments from the sum over its values', figures => {
    const law = { kind: 'geometric', ...figures } as const
    const last = figures.step / figures.mean
    let [total, square, chance] = [0, 0, last]
    for (let n = 1; n < 5000; n++) {
      total += n * figures.step * chance
      square += (n * figures.step) ** 2 * chance
      chance *= 1 - last
    }
    relativelyCloseTo(mean(law), total, 1e-12)
    expect(Math.abs(variance(law) - (square - total ** 2))).toBeLessThan(1e-9 * square)
  })

  it('has quantiles that are the smallest value reached', () => {
    const law = { kind: 'geometric', mean: 2, step: 1 } as const
    expect([0, 0.3, 0.5, 0.5000001, 0.75, 0.8, 0.875, 1].map(p => quantile(law, p))).toEqual([
      1,
      1,
      1,
      2,
      2,
      3,
      3,
      Infinity,
    ])
    expect(quantile({ kind: 'geometric', mean: 60, step: 60 }, 0.999)).toBe(60)
  })
})

describe('values as data', () => {
  it('fixed', () => {
    expect([mean(FIXED), variance(FIXED), quantile(FIXED, 0.1)]).toEqual([1.2, 0, 1.2])
  })

  it.each([OBSERVED, REPLAYED])('$kind: mean, variance over n, quantile of type 7', law => {
    expect(mean(law)).toBe(6.8)
    // 0.2^2, 3.8^2 twice, 2.2^2 and 5.2^2, over 5.
    relativelyCloseTo(variance(law), 60.8 / 5, 1e-14)
    for (const p of [0, 0.1, 0.25, 0.5, 0.77, 1]) expect(quantile(law, p)).toBe(sampleQuantile(law.values, p))
  })
})
