import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { integrate } from '../../sim/stats/integrate.ts'
import {
  equalShareEdges,
  equalWidthEdges,
  minimumOfExponentials,
  minimumOfNormals,
  minimumOfUniforms,
  seriesString,
  sortedStringMinimum,
} from '../../sim/stats/string-match.ts'
import { relativelyCloseTo } from '../close.ts'

describe('integrate', () => {
  it.each<[string, (x: number) => number, number, number, number]>([
    ['x^2 from 0 to 3', x => x * x, 0, 3, 9],
    ['sin from 0 to pi', Math.sin, 0, Math.PI, 2],
    ['sqrt, upright at its start, from 0 to 1', Math.sqrt, 0, 1, 2 / 3],
    ['ln from 0 to 1', Math.log, 0, 1, -1],
    ['exp(-x^2) over all that counts', x => Math.exp(-x * x), -12, 12, Math.sqrt(Math.PI)],
    ['a fall within a hundredth', x => (1 - x) ** 500, 0, 1, 1 / 501],
  ])('%s', (_, f, from, to, expected) => relativelyCloseTo(integrate(f, from, to), expected, 1e-12))
})

describe('least of n', () => {
  it('for n = 1 is the law itself', () => {
    expect(Math.abs(minimumOfNormals(1).mean)).toBeLessThan(1e-12)
    relativelyCloseTo(minimumOfNormals(1).sd, 1, 1e-12)
    // Width 12, sd sqrt 12.
    expect(minimumOfUniforms(1, 0, 12).mean).toBe(6)
    relativelyCloseTo(minimumOfUniforms(1, 0, 12).sd, Math.sqrt(12), 1e-12)
    expect(minimumOfExponentials(1, 5)).toEqual({ mean: 5, sd: 5 })
  })

  it.each([2, 7, 60])('of %i uniforms and exponentials: moments from their densities', n => {
    const uniform = (x: number) => n * (1 - x) ** (n - 1)
    const square = integrate(x => (x - 1 / (n + 1)) ** 2 * uniform(x), 0, 1)
    relativelyCloseTo(minimumOfUniforms(n, 0, 1).sd, Math.sqrt(square), 1e-11)
    const exponential = (x: number) => n * Math.exp(-n * x)
    relativelyCloseTo(
      minimumOfExponentials(n, 1).mean,
      integrate(x => x * exponential(x), 0, 60 / n),
      1e-11,
    )
  })
})

describe('sorting', () => {
  it('into one bin is no sorting', () => {
    relativelyCloseTo(sortedStringMinimum(60, []), minimumOfNormals(60).mean, 1e-11)
  })

  it('more finely never lowers the mean string minimum, which stays below the mean of the cells', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 144 }), fc.integer({ min: 1, max: 10 }), (n, bins) => {
        const coarse = sortedStringMinimum(n, equalShareEdges(bins))
        const fine = sortedStringMinimum(n, equalShareEdges(2 * bins))
        expect(fine).toBeGreaterThan(coarse)
        expect(fine).toBeLessThan(0)
      }),
      { numRuns: 40, seed: 11 },
    )
  })

  it('of strings of one cell changes nothing', () => {
    expect(Math.abs(sortedStringMinimum(1, equalWidthEdges(0.5, 2)))).toBeLessThan(1e-11)
  })

  it('has edges that share the cells or the width', () => {
    expect(equalWidthEdges(0.5, 1)).toEqual([-1, -0.5, 0, 0.5, 1])
    expect(equalShareEdges(1)).toEqual([])
    expect(equalShareEdges(2)).toEqual([0])
    // Normal quartile, any table.
    relativelyCloseTo(equalShareEdges(4)[2], 0.6744897501960817, 1e-12)
  })
})

describe('series string', () => {
  it('of equal cells loses nothing', () => {
    expect(seriesString([9, 9, 9], 0.5)).toEqual({ current: 9, power: 13.5, sumOfCells: 13.5, loss: 0 })
  })
})
