import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { integrate } from './integrate.ts'

/**
 * What sorting cells is worth. In a series string the current is that of its
 * lowest cell (first-order model), so what counts is the minimum of n cells, and
 * sorting pays by bringing it nearer to their mean. Real modules lose less, since
 * their cells' maximum-power points shift: the figures here are upper bounds.
 */

/** Mean and standard deviation of the least of n independent values. */
export interface Minimum {
  readonly mean: number
  readonly sd: number
}

/** Scores beyond this have no weight left, even for the least of a million. */
const FARTHEST = 12

/**
 * The least of n standard normal values, from its density
 * n phi(x) (1 - Phi(x))^(n - 1).
 * Source of the integral: Harter (1961), Biometrika 48, 151-165.
 */
export function minimumOfNormals(n: number): Minimum {
  const density = (x: number) => (n / Math.sqrt(2 * Math.PI)) * Math.exp(-0.5 * x * x) * above(x) ** (n - 1)
  const mean = integrate(x => x * density(x), -FARTHEST, FARTHEST)
  const variance = integrate(x => (x - mean) ** 2 * density(x), -FARTHEST, FARTHEST)
  return { mean, sd: Math.sqrt(variance) }
}

/** The least of n values uniform on [least, most]: least + (most - least) / (n + 1). */
export function minimumOfUniforms(n: number, least: number, most: number): Minimum {
  const width = most - least
  return { mean: least + width / (n + 1), sd: (width / (n + 1)) * Math.sqrt(n / (n + 2)) }
}

/** The least of n exponential values: again exponential, with the n-th part of their mean. */
export function minimumOfExponentials(n: number, mean: number): Minimum {
  return { mean: mean / n, sd: mean / n }
}

/**
 * Mean string minimum when cells, their currents standard normal, are sorted at
 * the given rising edges and each string takes its n cells from one bin. Counted
 * over all strings, each bin by its share of the cells; in standard deviations of
 * the cell current from its mean. No edges: one bin, no sorting.
 *
 * Within a bin from a to b with G the share of its cells below x, the mean is
 * a + integral from a to b of (1 - G(x))^n.
 */
export function sortedStringMinimum(n: number, edges: readonly number[]): number {
  const ends = [-FARTHEST, ...edges, FARTHEST]
  let mean = 0
  for (let bin = 0; bin + 1 < ends.length; bin++) {
    const from = ends[bin]
    const to = ends[bin + 1]
    const share = between(from, to)
    if (share > 0) mean += share * (from + integrate(x => (between(x, to) / share) ** n, from, to))
  }
  return mean
}

/** Edges that give each of `bins` bins the same share of standard normal cells. */
export function equalShareEdges(bins: number): number[] {
  return Array.from({ length: bins - 1 }, (_, i) => normalQuantile((i + 1) / bins, 0, 1))
}

/** Edges `width` apart from -limit to limit, so that the cells beyond either limit share one bin. */
export function equalWidthEdges(width: number, limit: number): number[] {
  const bins = Math.round((2 * limit) / width)
  return Array.from({ length: bins + 1 }, (_, i) => -limit + (2 * limit * i) / bins)
}

/**
 * How far the mean string minimum lies below the bin's middle when the bin is
 * narrow against the spread of the cells, in bin widths: (n - 1) / (2 (n + 1)).
 */
export function narrowBinLoss(n: number): number {
  return (n - 1) / (2 * (n + 1))
}

/** A string of cells in series, first-order model. Amperes, volts, watts. */
export interface SeriesString {
  readonly current: number
  readonly power: number
  /** Power of the same cells one by one. */
  readonly sumOfCells: number
  /** Share of it that the string loses. */
  readonly loss: number
}

/** The string of these cells, each giving `voltage` at any current up to its own. */
export function seriesString(currents: readonly number[], voltage: number): SeriesString {
  const current = Math.min(...currents)
  const power = current * voltage * currents.length
  const sumOfCells = voltage * currents.reduce((sum, cell) => sum + cell, 0)
  return { current, power, sumOfCells, loss: 1 - power / sumOfCells }
}

/** Share of the cells between two scores, counted from the tail in which it keeps its digits. */
function between(from: number, to: number): number {
  return to <= 0 ? above(-to) - above(-from) : above(from) - above(to)
}

function above(score: number): number {
  return normalCdf(-score, 0, 1)
}
