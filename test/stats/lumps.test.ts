import seedrandom from 'seedrandom'
import { describe, expect, test } from 'vitest'
import { lumpsOf } from '../../sim/stats/lumps.ts'

/** Loads of so many that leave together, every so many moments, the next one `first` moments after the window begins. */
const loads = (size: number, every: number, first: number, moments: number) =>
  Float64Array.from(
    { length: moments + 1 },
    (_, moment) => size * Math.floor((moment + every - first) / every),
  )

describe('what the edges of a window let in or not', () => {
  test('is nothing of an even flow', () => {
    const even = Float64Array.from({ length: 101 }, (_, moment) => 7 * moment)
    expect(lumpsOf([even, even])).toBeCloseTo(0, 9)
    expect(lumpsOf([even.subarray(0, 1)])).toBe(0)
  })

  test.each([1, 3, 9])('is a load that leaves in the same rhythm in all replications: phase %i', first => {
    // 100 in ten moments: up by 100 at once, down by 10 in each; by 90 to those who look after each.
    const path = loads(100, 10, first, 1000)
    expect(lumpsOf([path, path])).toBeGreaterThanOrEqual(90)
    expect(lumpsOf([path, path])).toBeLessThanOrEqual(101)
  })

  test('is far less where loads come at any time', () => {
    const paths = Array.from({ length: 10 }, (_, r) => loads(100, 10, r + 1, 1000))
    expect(lumpsOf(paths)).toBeLessThan(15)
  })

  test('is nothing that chance explains, but for a few cases of a hundred', () => {
    // The bridge of the mean of 20 random walks is random itself, so it strays as far in one case of a hundred
    // (Kuiper 1960), in some more since its error is not known but estimated.
    const random = seedrandom('walks')
    const walk = () => {
      const path = new Float64Array(401)
      for (let moment = 1; moment < path.length; moment++) path[moment] = path[moment - 1] + random() - 0.5
      return path
    }
    const told = Array.from({ length: 500 }, () => lumpsOf(Array.from({ length: 20 }, walk)))
    const share = told.filter(lumps => lumps > 0).length / told.length
    expect(share).toBeGreaterThan(0)
    expect(share).toBeLessThan(0.05)
  })
})
