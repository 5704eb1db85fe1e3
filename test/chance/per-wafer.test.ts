import gammainc from '@stdlib/math-base-special-gammainc'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { describe, expect, it } from 'vitest'
import { Ahead } from '../../sim/chance/ahead.ts'
import { Hazards, hazardOf } from '../../sim/chance/hazard.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { ends, normalSampler } from '../../sim/chance/ziggurat.ts'
import { relativelyCloseTo } from '../close.ts'

/** Within 4 standard deviations of a binomial count. */
function expectCount(count: number, draws: number, share: number): void {
  expect(Math.abs(count - draws * share)).toBeLessThan(4 * Math.sqrt(draws * share * (1 - share)))
}

describe('normal scores of wafers', () => {
  const density = (x: number) => Math.exp(-0.5 * x * x)
  // The tail beyond x under exp(-x^2 / 2), from the distribution function of @stdlib.
  const tail = (x: number) => Math.sqrt(2 * Math.PI) * normalCdf(-x, 0, 1)

  const ENDS = ends()

  it('come from layers of equal area under the curve, the lowest with the tail', () => {
    const area = ENDS[1] * density(ENDS[1]) + tail(ENDS[1])
    // The published area of 256 layers (Marsaglia & Tsang 2000), from memory.
    relativelyCloseTo(area, 0.00492867323399, 1e-11)
    relativelyCloseTo(ENDS[0] * density(ENDS[1]), area, 1e-13)
    for (let i = 1; i < 256; i++)
      relativelyCloseTo(ENDS[i] * (density(ENDS[i + 1]) - density(ENDS[i])), area, 1e-11)
    // Of all layers together 99.33 % lies under the curve (the efficiency that Marsaglia & Tsang give, from memory).
    expect(Math.sqrt(Math.PI / 2) / (256 * area)).toBeCloseTo(0.9933, 4)
    expect(ENDS[256]).toBe(0)
  })

  it('are normal: 2 million of them fill 400 equal classes evenly', () => {
    const CLASSES = 400
    const DRAWS = 2_000_000
    const counts = new Float64Array(CLASSES)
    const draw = normalSampler(openStream('scores', 0, 'even'))
    for (let i = 0; i < DRAWS; i++) counts[Math.floor(CLASSES * normalCdf(draw(), 0, 1))]++
    const expected = DRAWS / CLASSES
    const chiSquare = counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0)
    // Pearson's test at 1 %: the law of chi-square by the incomplete gamma function of @stdlib.
    expect(gammainc(chiSquare / 2, (CLASSES - 1) / 2)).toBeLessThan(0.99)
  })

  it('are normal in the tails on either side, also beyond the lowest layer', () => {
    const DRAWS = 4_000_000
    const LIMITS = [2, 3, 3.4, 3.65, 3.8, 4, 4.4]
    const above = LIMITS.map(() => 0)
    const below = LIMITS.map(() => 0)
    const draw = normalSampler(openStream('scores', 0, 'tails'))
    for (let i = 0; i < DRAWS; i++) {
      const score = draw()
      if (Math.abs(score) > 2)
        LIMITS.forEach((limit, l) => {
          if (score > limit) above[l]++
          if (score < -limit) below[l]++
        })
    }
    LIMITS.forEach((limit, l) => {
      expectCount(above[l], DRAWS, normalCdf(-limit, 0, 1))
      expectCount(below[l], DRAWS, normalCdf(-limit, 0, 1))
    })
  })

  it('are the same drawn ahead', () => {
    const ahead = new Ahead(openStream('scores', 0, 'same'), 'normal')
    const draw = normalSampler(openStream('scores', 0, 'same'))
    for (let i = 0; i < 1000; i++) expect(ahead.next()).toBe(draw())
  })
})

describe('chances taken wafer by wafer', () => {
  it.each([1e-12, 1e-6, 0.0009999, 0.001, 0.0010001, 0.3, 0.999])('hazard of the share %d', share => {
    // exp(-hazard) is the share that nothing happens to.
    relativelyCloseTo(-Math.expm1(-hazardOf(share)), share, 1e-15)
  })

  it('a certainty always comes true, and nothing else for ever after', () => {
    const hazards = new Hazards(openStream('hazards', 0, 'certain'))
    for (let i = 0; i < 100; i++) expect(hazards.strikes(hazardOf(1))).toBe(true)
    for (let i = 0; i < 100; i++) expect(hazards.strikes(hazardOf(1.5))).toBe(true)
    for (let i = 0; i < 100; i++) expect(hazards.strikes(hazardOf(0))).toBe(false)
  })

  // By the definition of independent chances: each share is met, whatever came before.
  it('comes true with its own probability, also right after one that has', () => {
    const SHARES = [0.3, 0.02, 0.0005]
    const DRAWS = 900_000
    const hazards = new Hazards(openStream('hazards', 0, 'mixed'))
    const counts = SHARES.map(() => 0)
    let afterOne = 0
    let again = 0
    let before = false
    for (let i = 0; i < DRAWS; i++) {
      const kind = i % SHARES.length
      const strikes = hazards.strikes(hazardOf(SHARES[kind]))
      if (strikes) counts[kind]++
      if (kind === 1 && before) {
        afterOne++
        if (strikes) again++
      }
      before = strikes
    }
    counts.forEach((count, kind) => {
      expectCount(count, DRAWS / SHARES.length, SHARES[kind])
    })
    expectCount(again, afterOne, SHARES[1])
  })
})
