import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { geometricSampler } from '../../sim/chance/sampler.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { estimate } from '../../sim/stats/estimate.ts'

const at = (share: number, u: number) => geometricSampler(share, () => u)()
const shares = fc.double({ min: 1e-9, max: 1, maxExcluded: true, noNaN: true })
const STEP = 2 ** -53

describe('wafers until the next failure', () => {
  it('is 1 exactly for the uniforms below the share: P(K = 1) is the share', () => {
    fc.assert(
      fc.property(shares, share => {
        // The last uniform of the stream's grid below the share, and the first not below it.
        const first = Math.ceil(share * 2 ** 53) * STEP
        expect(at(share, first - STEP)).toBe(1)
        if (first < 1) expect(at(share, first)).toBeGreaterThanOrEqual(2)
      }),
      { numRuns: 500, seed: 4 },
    )
  })

  it('exceeds k for the uniforms above 1 - (1 - share)^k: P(K > k) = (1 - share)^k', () => {
    const cases = fc.record({
      share: fc.double({ min: 1e-5, max: 0.9, noNaN: true }),
      k: fc.integer({ min: 1, max: 40 }),
    })
    fc.assert(
      fc.property(cases, ({ share, k }) => {
        const edge = -Math.expm1(k * Math.log1p(-share))
        fc.pre(edge < 1 - 1e-6)
        expect(at(share, edge * (1 - 1e-9))).toBeLessThanOrEqual(k)
        expect(at(share, edge * (1 + 1e-9))).toBe(k + 1)
      }),
      { numRuns: 500, seed: 5 },
    )
  })

  // Mean 1 / share and variance (1 - share) / share^2: Johnson, Kemp & Kotz, chapter 5 (from memory).
  it.each([0.5, 0.03, 0.0004])('share %d: mean and variance within their 99.9 %% intervals', share => {
    const draw = geometricSampler(share, openStream('until failure', 0, `${share}`))
    const values = Array.from({ length: 200_000 }, draw)
    const mean = estimate(values, 0.999)
    const variance = estimate(
      values.map(k => (k - 1 / share) ** 2),
      0.999,
    )
    expect(mean.low).toBeLessThan(1 / share)
    expect(mean.high).toBeGreaterThan(1 / share)
    expect(variance.low).toBeLessThan((1 - share) / share ** 2)
    expect(variance.high).toBeGreaterThan((1 - share) / share ** 2)
    expect(values.every(k => Number.isInteger(k) && k >= 1)).toBe(true)
  })

  it('takes one uniform per occurrence, none when nothing or everything fails', () => {
    let asked = 0
    const stream = () => {
      asked++
      return 0.4
    }
    const some = geometricSampler(0.01, stream)
    expect([some(), some(), some()]).toEqual([51, 51, 51])
    expect(asked).toBe(3)
    expect(geometricSampler(0, stream)()).toBe(Infinity)
    expect(geometricSampler(1, stream)()).toBe(1)
    expect(asked).toBe(3)
  })
})
