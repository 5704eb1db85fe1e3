import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Pilot, replicationsNeeded } from '../../sim/stats/sample-size.ts'
import { studentFactor } from '../../sim/stats/student.ts'

describe('replications needed', () => {
  it('are the smallest number that meets the rule', () => {
    const cases = fc.record({
      mean: fc.double({ min: 10, max: 1000, noNaN: true }),
      sd: fc.double({ min: 0.1, max: 100, noNaN: true }),
      n: fc.integer({ min: 2, max: 30 }),
      wanted: fc.double({ min: 0.002, max: 0.2, noNaN: true }),
    })
    fc.assert(
      fc.property(cases, ({ wanted, ...pilot }) => {
        const meets = (n: number) =>
          (studentFactor(0.95, n - 1) * pilot.sd) / (Math.sqrt(n) * pilot.mean) <= wanted / (1 + wanted)
        const needed = replicationsNeeded(pilot, wanted, 0.95)
        expect(meets(needed)).toBe(true)
        if (needed > pilot.n) expect(meets(needed - 1)).toBe(false)
        expect(needed).toBeGreaterThanOrEqual(pilot.n)
      }),
      { numRuns: 100, seed: 10 },
    )
  })

  it.each<[string, Pilot, number]>([
    ['no spread needs no more', { mean: 5, sd: 0, n: 4 }, 4],
    ['a negative mean counts by its size', { mean: -3600, sd: 45, n: 10 }, 27],
    ['a mean of 0 never gets there', { mean: 0, sd: 1, n: 4 }, Infinity],
    ['a mean of 0 without spread is there', { mean: 0, sd: 0, n: 4 }, 4],
  ])('%s', (_, pilot, expected) => expect(replicationsNeeded(pilot, 0.005, 0.95)).toBe(expected))

  it('need a precision above 0 and a pilot of two', () => {
    expect(() => replicationsNeeded({ mean: 1, sd: 1, n: 4 }, 0, 0.95)).toThrow(RangeError)
    expect(() => replicationsNeeded({ mean: 1, sd: 1, n: 1 }, 0.01, 0.95)).toThrow(RangeError)
  })
})
