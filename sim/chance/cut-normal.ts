import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { normalScore } from './normal.ts'
import type { Stream } from './streams.ts'

/**
 * Normal law with the moments `mean` and `sd` before it is cut, of which only
 * what lies between `least` and `most` is kept. Either end may be infinite.
 */
export interface CutNormal {
  readonly mean: number
  readonly sd: number
  readonly least: number
  readonly most: number
}

/**
 * Mean of what is drawn, after the cut.
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1
 * (1994), section 13.10.1.
 */
export function cutNormalMean(law: CutNormal): number {
  const frame = frameOf(law)
  return law.mean + frame.side * law.sd * scoreMoments(frame).mean
}

/** Variance of what is drawn, after the cut. */
export function cutNormalVariance(law: CutNormal): number {
  return law.sd ** 2 * scoreMoments(frameOf(law)).variance
}

/** x with P(X <= x) = p after the cut. */
export function cutNormalQuantile(law: CutNormal, p: number): number {
  return cutNormalSampler(law, () => p)()
}

/** Draws by inversion and rises with the uniform on either side. Rounding in the score never carries a value past a cut. */
export function cutNormalSampler(law: CutNormal, stream: Stream): () => number {
  const { mean, sd, least, most } = law
  const { side, outside, mass } = frameOf(law)
  if (side > 0)
    return () => Math.max(least, Math.min(most, mean + sd * normalScore(outside + mass * stream())))
  return () => Math.max(least, Math.min(most, mean - sd * normalScore(outside + mass * (1 - stream()))))
}

/** The cut law seen in standard scores, mirrored (`side` -1) when it lies wholly above the mean. */
interface Frame {
  readonly side: 1 | -1
  readonly from: number
  readonly to: number
  /** Probability below `from`, and between `from` and `to`. */
  readonly outside: number
  readonly mass: number
}

/** Mirroring keeps probabilities small where they would come so near to 1 that they lose their digits. */
function frameOf(law: CutNormal): Frame {
  const low = (law.least - law.mean) / law.sd
  const high = (law.most - law.mean) / law.sd
  const side = low > 0 ? -1 : 1
  const from = side > 0 ? low : -high
  const to = side > 0 ? high : -low
  const outside = normalCdf(from, 0, 1)
  const mass = normalCdf(to, 0, 1) - outside
  if (mass > 0) return { side, from, to, outside, mass }
  throw new RangeError(
    `a normal law with mean ${law.mean} and sd ${law.sd} has nothing between ${law.least} and ${law.most}`,
  )
}

/**
 * With a, b the cuts as scores and Z the probability between them:
 * mean (phi(a) - phi(b)) / Z, variance 1 + (a phi(a) - b phi(b)) / Z - mean^2.
 */
function scoreMoments(frame: Frame): { mean: number; variance: number } {
  if (frame.to - frame.from < NARROW) return narrowMoments(frame)
  const { from, to, mass } = frame
  const mean = (density(from) - density(to)) / mass
  const variance = 1 + (slope(from) - slope(to)) / mass - mean * mean
  return { mean, variance }
}

const NARROW = 0.25
const PANELS = 512

/** Between two close cuts the closed form cancels; there Simpson's rule is right to 1e-10 up to 8 sd from the mean. */
function narrowMoments({ from, to }: Frame): { mean: number; variance: number } {
  const middle = from + (to - from) / 2
  const step = (to - from) / PANELS
  let mass = 0
  let first = 0
  let second = 0
  for (let i = 0; i <= PANELS; i++) {
    const offset = (i - PANELS / 2) * step
    const end = i === 0 || i === PANELS
    // Density relative to that in the middle, so that a cut far out does not underflow.
    const weight = (end ? 1 : 2 + 2 * (i % 2)) * Math.exp(-offset * (middle + offset / 2))
    mass += weight
    first += weight * offset
    second += weight * offset * offset
  }
  const shift = first / mass
  return { mean: middle + shift, variance: second / mass - shift * shift }
}

function density(score: number): number {
  return Math.exp(-0.5 * score * score) / Math.sqrt(2 * Math.PI)
}

/** z phi(z), 0 at either infinity. */
function slope(score: number): number {
  return Number.isFinite(score) ? score * density(score) : 0
}
