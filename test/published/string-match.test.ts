import { describe, expect, it } from 'vitest'
import {
  equalShareEdges,
  equalWidthEdges,
  minimumOfExponentials,
  minimumOfNormals,
  minimumOfUniforms,
  narrowBinLoss,
  seriesString,
  sortedStringMinimum,
} from '../../sim/stats/string-match.ts'
import { relativelyCloseTo } from '../close.ts'

/** Half a unit of the sixth decimal that the tables print. */
const PRINTED = 5.1e-7

function printed(found: number, expected: number): void {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(PRINTED)
}

describe('least of n standard normal cells', () => {
  // Harter (1961), Biometrika 48; Teichroew (1956), Annals of Mathematical Statistics 27 (from memory);
  // digits by numerical integration.
  it.each([
    [2, -0.56419],
    [3, -0.846284],
    [4, -1.029375],
    [5, -1.162964],
    [6, -1.267206],
    [10, -1.538753],
    [12, -1.629228],
    [20, -1.867475],
    [24, -1.947674],
    [36, -2.118123],
    [54, -2.278914],
    [60, -2.319278],
    [66, -2.355323],
    [72, -2.387852],
    [108, -2.534981],
    [120, -2.572085],
    [144, -2.635271],
  ])('n %i: mean %f', (n, expected) => printed(minimumOfNormals(n).mean, expected))

  it('has closed forms for two and three', () => {
    relativelyCloseTo(minimumOfNormals(2).mean, -1 / Math.sqrt(Math.PI), 1e-12)
    relativelyCloseTo(minimumOfNormals(3).mean, -1.5 / Math.sqrt(Math.PI), 1e-12)
    relativelyCloseTo(minimumOfNormals(2).sd, Math.sqrt(1 - 1 / Math.PI), 1e-12)
  })

  it.each([
    [2, 0.825645],
    [10, 0.586808],
    [60, 0.454484],
    [72, 0.445084],
    [144, 0.413731],
  ])('n %i: standard deviation %f', (n, expected) => printed(minimumOfNormals(n).sd, expected))
})

describe('least of 60', () => {
  // Order statistics of uniform and exponential samples, closed forms.
  it('uniform: a 61st of the width above the least', () => {
    relativelyCloseTo(minimumOfUniforms(60, 0, 1).mean, 0.01639344262295082, 1e-14)
    relativelyCloseTo(minimumOfUniforms(60, 8, 14).mean, 8 + 6 / 61, 1e-14)
  })

  it('exponential: a 60th of the mean', () => {
    expect(minimumOfExponentials(60, 1).mean).toBe(1 / 60)
  })
})

describe('string of six cells', () => {
  // First-order model, arithmetic.
  it('carries the current of its lowest', () => {
    const string = seriesString([13.42, 13.38, 13.51, 13.29, 13.47, 13.4], 0.62)
    expect(string.current).toBe(13.29)
    relativelyCloseTo(string.power, 49.4388, 1e-9)
    relativelyCloseTo(string.sumOfCells, 49.8914, 1e-9)
    relativelyCloseTo(100 * string.loss, 0.9071703740524684, 1e-9)
  })
})

describe('sorted cells', () => {
  // Average over bins of lower edge + integral of (1 - G)^n; derived, no printed source.
  it.each([
    [60, 1, -2.319278],
    [60, 2, -1.27658],
    [60, 4, -0.693021],
    [60, 8, -0.37224],
    [72, 1, -2.387852],
    [72, 2, -1.309711],
    [72, 4, -0.709105],
    [72, 8, -0.380087],
  ])('strings of %i from %i equally full bins: %f', (n, bins, expected) => {
    printed(sortedStringMinimum(n, equalShareEdges(bins)), expected)
  })

  it('in 4 bins at a spread of 1 % give strings of 60 1.626257 % more current', () => {
    const gain = sortedStringMinimum(60, equalShareEdges(4)) - sortedStringMinimum(60, [])
    printed(gain, 1.626257)
  })

  it('in bins half a standard deviation wide, the tails beyond 2 each in one bin: -0.264661', () => {
    printed(sortedStringMinimum(60, equalWidthEdges(0.5, 2)), -0.264661)
  })

  // (mean - E[min]) / width = (n - 1) / (2 (n + 1)) for a uniform bin.
  it.each([
    [60, 0.48360655737704916],
    [72, 0.4863013698630137],
  ])('strings of %i from a narrow bin lie %f widths below its middle', (n, expected) => {
    relativelyCloseTo(narrowBinLoss(n), expected, 1e-14)
    relativelyCloseTo(0.5 - minimumOfUniforms(n, 0, 1).mean, expected, 1e-12)
    // Real bins of 0.01 sd come near it: their cells' mean against their strings' minimum.
    relativelyCloseTo(-sortedStringMinimum(n, equalWidthEdges(0.01, 4)) / 0.01, expected, 2e-2)
  })
})
