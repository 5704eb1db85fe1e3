import { describe, expect, it } from 'vitest'
import { estimate } from '../../sim/stats/estimate.ts'
import { pairedDifference } from '../../sim/stats/paired.ts'
import { estimateWithin } from '../../sim/stats/resolution.ts'

describe('an interval of what is counted', () => {
  it('is no narrower than the resolution, around the mean', () => {
    const { low, high, ...rest } = estimateWithin([5, 5, 5], 0.95, 0.25)
    expect(rest).toEqual({ mean: 5, n: 3 })
    expect([low, high].map(end => (end ?? Number.NaN).toFixed(6))).toEqual(['4.750000', '5.250000'])
  })

  it('stays as it is where scatter makes it wider', () => {
    expect(estimateWithin([4, 6, 5], 0.95, 0.25)).toEqual(estimate([4, 6, 5], 0.95))
  })

  it('is absent for one value', () => {
    expect(estimateWithin([5], 0.95, 0.25)).toEqual({ mean: 5, n: 1 })
  })

  it('holds zero where a difference is as large as the resolution, and not where it is larger', () => {
    expect(pairedDifference([3.25, 3.25], [3, 3], 0.95, 0.25).low).toBeLessThan(0)
    expect(pairedDifference([3.26, 3.26], [3, 3], 0.95, 0.25).low).toBeGreaterThan(0)
    expect(() => pairedDifference([1], [1, 2], 0.95, 0)).toThrow(RangeError)
  })
})
