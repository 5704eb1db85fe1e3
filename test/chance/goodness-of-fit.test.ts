import gammainc from '@stdlib/math-base-special-gammainc'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { describe, expect, it } from 'vitest'
import type { Law } from '../../sim/chance/law.ts'
import { sampler } from '../../sim/chance/sampler.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { weibullScale } from '../../sim/chance/weibull.ts'
import { CRITICAL, kolmogorov } from './kolmogorov.ts'
import { CONTINUOUS, nameOf, OBSERVED } from './laws.ts'

/** Every sampler against its distribution function, written here anew: one fixed seed, level 1 %. */
const DRAWS = 10_000

function distribution(law: Law): (x: number) => number {
  switch (law.kind) {
    case 'exponential':
      return x => -Math.expm1(-x / law.mean)
    case 'lognormal': {
      const sd = Math.sqrt(Math.log(1 + law.cv ** 2))
      return x => normalCdf(Math.log(x), Math.log(law.mean) - sd ** 2 / 2, sd)
    }
    case 'gamma':
      // Right for arguments up to 1000 only; the narrow law is compared by its normal limit below.
      return law.cv < 0.05 ? narrowGamma(law) : x => gammainc(x / (law.mean * law.cv ** 2), 1 / law.cv ** 2)
    case 'weibull':
      return x => -Math.expm1(-((x / weibullScale(law.mean, law.shape)) ** law.shape))
    case 'normal': {
      const below = (x: number) => normalCdf(x, law.mean, law.sd)
      return x => (below(x) - below(law.least)) / (below(law.most) - below(law.least))
    }
    case 'triangular': {
      const { least, mode, most } = law
      return x =>
        x < mode
          ? (x - least) ** 2 / ((most - least) * (mode - least))
          : 1 - (most - x) ** 2 / ((most - least) * (most - mode))
    }
    case 'uniform':
      return x => (x - law.least) / (law.most - law.least)
    default:
      throw new Error(`no distribution function for ${law.kind}`)
  }
}

/** Wilson & Hilferty (1931): at shape 10 000 right to 1e-6, far below what 10 000 draws can tell. */
function narrowGamma(law: { mean: number; cv: number }): (x: number) => number {
  const ninth = law.cv ** 2 / 9
  return x => normalCdf((Math.cbrt(x / law.mean) - (1 - ninth)) / Math.sqrt(ninth), 0, 1)
}

describe('Kolmogorov-Smirnov at 1 %', () => {
  it.each(CONTINUOUS.map(law => [nameOf(law), law] as const))('%s', (name, law) => {
    const values = Array.from({ length: DRAWS }, sampler(law, openStream('goodness of fit', 0, name)))
    expect(kolmogorov(values, distribution(law))).toBeLessThan(CRITICAL)
  })

  it('would notice a spread that is 10 % too large', () => {
    const law = { kind: 'lognormal', mean: 10, cv: 0.44 } as const
    const values = Array.from({ length: DRAWS }, sampler(law, openStream('goodness of fit', 0, 'wrong')))
    expect(kolmogorov(values, distribution({ ...law, cv: 0.4 }))).toBeGreaterThan(CRITICAL)
  })
})

describe('chi-square at 1 %', () => {
  /** Critical values for 3, 4 and 9 degrees of freedom: any chi-square table, e.g. e-Handbook 1.3.6.7.4. */
  const critical = { 3: 11.345, 4: 13.277, 9: 21.666 }

  function chiSquare(counts: readonly number[], shares: readonly number[]): number {
    return counts.reduce((sum, count, i) => sum + (count - DRAWS * shares[i]) ** 2 / (DRAWS * shares[i]), 0)
  }

  it('geometric: 1 to 9 steps and more', () => {
    const draw = sampler(
      { kind: 'geometric', mean: 4, step: 1 },
      openStream('goodness of fit', 0, 'geometric'),
    )
    const counts = new Array<number>(10).fill(0)
    for (let i = 0; i < DRAWS; i++) counts[Math.min(draw(), 10) - 1]++
    const shares = counts.map((_, i) => (i < 9 ? 0.25 * 0.75 ** i : 0.75 ** 9))
    expect(chiSquare(counts, shares)).toBeLessThan(critical[9])
  })

  it('observed: each value by how often it was seen', () => {
    const draw = sampler(OBSERVED, openStream('goodness of fit', 0, 'observed'))
    const drawn = Array.from({ length: DRAWS }, draw)
    const counts = [3, 7, 9, 12].map(value => drawn.filter(x => x === value).length)
    expect(counts.reduce((a, b) => a + b)).toBe(DRAWS)
    expect(chiSquare(counts, [0.4, 0.2, 0.2, 0.2])).toBeLessThan(critical[3])
  })
})
