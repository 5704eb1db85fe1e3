import { describe, expect, it } from 'vitest'
import { gammaLogQuantile } from '../../sim/chance/gamma-quantile.ts'
import { quantile } from '../../sim/chance/law.ts'
import { normalScore } from '../../sim/chance/normal.ts'
import { sampler } from '../../sim/chance/sampler.ts'
import { relativelyCloseTo } from '../close.ts'
import gammas from '../published/data/gamma-quantiles.json' with { type: 'json' }
import normals from '../published/data/normal-quantiles.json' with { type: 'json' }

describe('standard normal score', () => {
  // mpmath, see the data file.
  it.each(normals.rows)('P = %d: %d', (p, z) => relativelyCloseTo(normalScore(p), z, 2e-15))

  it('is 0 in the middle and infinite at the ends', () => {
    expect([0, 0.5, 1].map(normalScore)).toEqual([-Infinity, 0, Infinity])
  })

  // Wichura (1988), Applied Statistics 37, the check values of AS 241 (from memory).
  it.each([
    [0.25, -0.6744897501960817],
    [0.001, -3.090232306167814],
    [1e-20, -9.262340089798409],
  ])('check value of the algorithm at %d', (p, z) => relativelyCloseTo(normalScore(p), z, 1e-15))
})

describe('gamma quantile', () => {
  // mpmath, see the data file.
  it.each(gammas.rows)('shape %d, P = %d: ln x %d', (shape, p, logX) => {
    const found = gammaLogQuantile(shape, p, 1 - p)
    expect(Math.abs(found - logX)).toBeLessThanOrEqual(1e-13 * Math.max(10, Math.abs(logX)))
  })

  it('is 0 and infinite at the ends', () => {
    const law = { kind: 'gamma', mean: 30, cv: 0.6 } as const
    expect([quantile(law, 0), quantile(law, 1)]).toEqual([0, Infinity])
  })

  it('of shape 1 is the exponential', () => {
    for (const p of [1e-9, 0.1, 0.5, 0.99, 1 - 1e-9])
      relativelyCloseTo(quantile({ kind: 'gamma', mean: 7, cv: 1 }, p), -7 * Math.log1p(-p), 1e-13)
  })
})

describe('a narrow gamma law', () => {
  const of = (cv: number, p: number) => quantile({ kind: 'gamma', mean: 1, cv }, p)

  it('goes on where the exact one ends', () => {
    // Of the exact quantile at the end of its range what is beyond the mean and the score, over the cv.
    for (const p of [1e-9, 0.01, 0.5, 0.9, 1 - 1e-9]) {
      const [below, above] = [0.000999999, 0.001].map(cv => ((of(cv, p) - 1) / cv - normalScore(p)) / cv)
      expect(Math.abs(below - above)).toBeLessThan(1e-4)
    }
  })

  it.each([1e-5, 1e-8, 1e-100, 5e-324])('has its mean and its spread at cv %d', cv => {
    expect([of(cv, 0), of(cv, 1)]).toEqual([0, Infinity])
    relativelyCloseTo(of(cv, 0.1), 1 - 1.2815515655446004 * cv, 3e-10)
    let u = 0.9
    relativelyCloseTo(sampler({ kind: 'gamma', mean: 1, cv }, () => u)(), of(cv, 0.9), 1e-15)
    u = 0.5
    expect(sampler({ kind: 'gamma', mean: 1, cv }, () => u)()).toBeCloseTo(1, 9)
  })
})

describe('gamma sampler, from its table', () => {
  /** 4000 probabilities, even in normal score, from 1e-9 to 1 - 1e-9. */
  const probabilities = Array.from({ length: 4000 }, (_, i) => {
    const score = -5.9 + (11.8 * i) / 3999
    const tail = Math.exp(-(score ** 2) / 2) / 2
    const p = score < 0 ? tail : 1 - tail
    return Math.min(1 - 1e-9, Math.max(1e-9, p))
  })

  it.each([0.001, 0.01, 0.044, 0.045, 0.1, 0.3, 0.499, 0.501, 0.6, 1, 1.5, 2, 3, 5, 10])(
    'cv %d: within 1e-7 of the exact quantile, and rising',
    cv => {
      let u = 0
      const law = { kind: 'gamma', mean: 60, cv } as const
      const draw = sampler(law, () => u)
      let worst = 0
      let previous = 0
      for (const p of probabilities) {
        u = p
        const value = draw()
        expect(value).toBeGreaterThanOrEqual(previous)
        const exact = quantile(law, p)
        // Below the smallest double both are 0.
        if (exact > 1e-290) worst = Math.max(worst, Math.abs(value / exact - 1))
        previous = value
      }
      expect(worst).toBeLessThan(1e-7)
    },
  )
})
