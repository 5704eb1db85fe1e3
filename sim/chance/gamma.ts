import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { gammaLogQuantile } from './gamma-quantile.ts'
import { gammaTails } from './gamma-tails.ts'
import { normalScore } from './normal.ts'
import type { Stream } from './streams.ts'

/**
 * Gamma law by its mean m and coefficient of variation c: shape 1 / c^2, scale
 * m c^2, variance (c m)^2.
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1
 * (1994), chapter 17.
 */
export function gammaQuantile(mean: number, cv: number, p: number): number {
  if (cv < NARROW) return narrowQuantile(mean, cv, normalScore(p))
  return mean * cv * cv * Math.exp(gammaLogQuantile(1 / (cv * cv), p, 1 - p))
}

/** Below this the exact quantile takes seconds, and loses its digits. */
const NARROW = 1e-3

/**
 * What is nearly normal by the first terms of its skewness 2 c and excess 6 c^2: right to c^4 of the mean.
 * Source: Cornish & Fisher (1938), Revue de l'Institut International de Statistique 5, 307-320 (from memory).
 */
function narrowQuantile(mean: number, cv: number, score: number): number {
  if (!Number.isFinite(score)) return score < 0 ? 0 : Infinity
  const square = score * score
  return mean * (1 + cv * (score + (cv * (square - 1)) / 3 + (cv * cv * score * (square - 7)) / 36))
}

/**
 * Draws by inversion through a table of the quantile, since the exact quantile
 * takes microseconds. The table holds ln x as a function of the normal score of
 * p, which is smooth and nearly straight at every shape, with its slope; between
 * its nodes runs the cubic that meets both (Hermite).
 *
 * Relative distance from `gammaQuantile` below 1e-7 for every p that a stream can
 * give and coefficients of variation from 0.001 to 10 (below 1e-8 up to 3).
 */
export function gammaSampler(mean: number, cv: number, stream: Stream): () => number {
  if (cv < NARROW) return () => narrowQuantile(mean, cv, normalScore(stream()))
  const { nodes, perScore } = tableOf(1 / (cv * cv))
  const scale = mean * cv * cv
  return () => {
    // An exact 0 has the score -Infinity: it takes the first node.
    const place = Math.max(0, (normalScore(stream()) + SCORES) * perScore)
    const node = Math.floor(place)
    const t = place - node
    const i = 2 * node
    const left = nodes[i]
    const rise = nodes[i + 2] - left
    const slope = nodes[i + 1]
    const bend = nodes[i + 3] + slope - 2 * rise
    return scale * Math.exp(left + t * (slope + t * (rise - slope - bend + t * bend)))
  }
}

/** ln x at evenly spaced scores, each with its change over one interval at the slope there. */
interface QuantileTable {
  readonly nodes: Float64Array
  readonly perScore: number
}

/** The scores of 2^-53 and 1 - 2^-53, the ends of what a stream gives, are -8.21 and 8.21. */
const SCORES = 8.25

/** One table serves all laws and all replications with one shape. */
const tables = new Map<number, QuantileTable>()

function tableOf(shape: number): QuantileTable {
  const known = tables.get(shape)
  if (known) return known
  const table = makeTable(shape)
  tables.set(shape, table)
  return table
}

function makeTable(shape: number): QuantileTable {
  // ln x is straighter at large shapes, where each quantile also takes longer.
  const perScore = shape > 4 ? 8 : 32
  const { density } = gammaTails(shape)
  const count = 2 * SCORES * perScore + 1
  const nodes = new Float64Array(2 * count)
  for (let node = 0; node < count; node++) {
    const score = node / perScore - SCORES
    const logX = gammaLogQuantile(shape, normalCdf(score, 0, 1), normalCdf(-score, 0, 1))
    const logNormalDensity = -0.5 * (score * score + Math.log(2 * Math.PI))
    nodes[2 * node] = logX
    nodes[2 * node + 1] = Math.exp(logNormalDensity - density(logX)) / perScore
  }
  return { nodes, perScore }
}
