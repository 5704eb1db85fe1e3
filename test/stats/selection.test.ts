import { describe, expect, it } from 'vitest'
import { judgeFeasible, longestCheck } from '../../sim/stats/feasible.ts'
import { sequentialConstants } from '../../sim/stats/kim-nelson.ts'
import { rinottConstant, rinottReplications } from '../../sim/stats/rinott.ts'

/** Its guarantee, and Rinott's: test/published/study-selection.ts. */
describe('a feasibility check', () => {
  const standard = { value: 10, tolerance: 1, error: 0.05 }

  it('waits for its first stage', () => {
    expect(judgeFeasible([30, 31, 29], 4, standard)).toBe('undecided')
  })

  it('is over at once where nothing varies', () => {
    expect(judgeFeasible([12, 12, 12], 3, standard)).toBe('reaches')
    expect(judgeFeasible([9, 9, 9], 3, standard)).toBe('misses')
  })

  it('takes what is exactly the standard as reaching it', () => {
    expect(judgeFeasible([10, 10, 10], 3, standard)).toBe('reaches')
  })

  it('ends by the number of values it names', () => {
    const values = Array.from({ length: 400 }, (_, i) => 10 + (i % 2 === 0 ? 4 : -4))
    const most = longestCheck(values.slice(0, 6), standard)
    expect(judgeFeasible(values.slice(0, most), 6, standard)).not.toBe('undecided')
  })
})

describe('constants', () => {
  it('grow with the number of systems, fall with the first stage', () => {
    expect(rinottConstant(5, 10, 0.95)).toBeGreaterThan(rinottConstant(3, 10, 0.95))
    expect(rinottConstant(3, 30, 0.95)).toBeLessThan(rinottConstant(3, 10, 0.95))
    expect(sequentialConstants(0.01, 10).hSquared).toBeGreaterThan(sequentialConstants(0.05, 10).hSquared)
  })

  it('refuse what makes no sense', () => {
    expect(() => rinottConstant(1, 10, 0.95)).toThrow(RangeError)
    expect(() => rinottConstant(3, 1, 0.95)).toThrow(RangeError)
    expect(() => rinottConstant(3, 10, 0.3)).toThrow(RangeError)
    expect(() => sequentialConstants(0.6, 10)).toThrow(RangeError)
    expect(() => sequentialConstants(0.05, 1)).toThrow(RangeError)
  })

  it('say how many replications', () => {
    expect(rinottReplications(3, 10, 5, 4)).toBe(36)
    expect(rinottReplications(3, 1, 5, 4)).toBe(4)
  })
})
