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
    // 100 in ten moments: up by 100 at once, down by 10 in each; ten values 10 apart have a variance of 825, so 99.5.
    const path = loads(100, 10, first, 1000)
    expect(lumpsOf([path, path])).toBeCloseTo(99.5, 0)
    expect(lumpsOf([path, path, path, path])).toBeCloseTo(99.5, 0)
  })

  test('is what is common where part of it is not', () => {
    // A load of 100 in step and another of 100 at any time.
    const paths = Array.from({ length: 10 }, (_, r) => {
      const other = loads(100, 10, r + 1, 1000)
      return loads(100, 10, 4, 1000).map((count, moment) => count + other[moment])
    })
    expect(lumpsOf(paths)).toBeGreaterThan(90)
    expect(lumpsOf(paths)).toBeLessThan(105)
  })

  test('is next to nothing where loads come at any time', () => {
    const paths = Array.from({ length: 10 }, (_, r) => loads(100, 10, r + 1, 1000))
    expect(lumpsOf(paths)).toBeLessThan(5)
  })

  test('is less than the interval from scatter of what chance makes', () => {
    // The bridge of the mean of random walks strays by itself: by Watson (1961) its variance is above 0.2669 of the
    // squared standard error in one case of a hundred (mean 1/12; from memory), which is taken for sqrt(12 x 0.1836) = 1.48 errors.
    const random = seedrandom('walks')
    const walk = () => {
      const path = new Float64Array(401)
      for (let moment = 1; moment < path.length; moment++) path[moment] = path[moment - 1] + random() - 0.5
      return path
    }
    // Standard error of a mean of 20 sums of 400 steps, each with a variance of 1/12.
    const error = Math.sqrt(400 / 12 / 20)
    const found = Array.from({ length: 400 }, () => lumpsOf(Array.from({ length: 20 }, walk)) / error)
    expect(found.filter(lumps => lumps > 1.48).length / 400).toBeLessThan(0.03)
    expect(Math.max(...found)).toBeGreaterThan(1)
  })

  test('is less than an error of what only jitters', () => {
    const random = seedrandom('jitter')
    const path = () =>
      Float64Array.from({ length: 401 }, (_, moment) => 5 * moment + (moment === 0 ? 0 : random() - 0.5))
    const error = Math.sqrt(1 / 12 / 10)
    expect(lumpsOf(Array.from({ length: 10 }, path))).toBeLessThan(1.5 * error)
  })
})
