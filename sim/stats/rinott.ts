import gammaln from '@stdlib/math-base-special-gammaln'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'

/** Weight left out at either end of the chi-square law, as a power of e below its top. */
const LEFT_OUT = 40
/** Distance of two nodes, in standard deviations of the logarithm of a chi-square variable. */
const STEP = 0.3

/**
 * Rinott's constant h: when the best of k systems is picked after
 * max(first, ceil((h S_i / delta)^2)) replications of each, S_i from its first `first`,
 * it is picked with at least the given probability, if its mean is better by delta.
 * h solves E[(E[Phi(h / sqrt((n0 - 1)(1/X + 1/Y))) | Y])^(k - 1)] = probability,
 * X and Y chi-square with n0 - 1 degrees of freedom, n0 = first.
 * Source: Rinott (1978), Communications in Statistics A 7, 799-811 (from memory).
 *
 * Throws RangeError unless k and first are whole numbers of at least 2 and the
 * probability lies between 1/k and 1.
 */
export function rinottConstant(k: number, first: number, probability: number): number {
  if (!Number.isInteger(k) || k < 2) throw new RangeError(`at least two systems are compared, not ${k}`)
  if (!Number.isInteger(first) || first < 2)
    throw new RangeError(`a first stage has two or more, not ${first}`)
  if (!(probability > 1 / k && probability < 1))
    throw new RangeError(`a probability between 1/${k} and 1 is wanted, not ${probability}`)
  const rule = chiSquareRule(first - 1)
  let low = 0
  let high = 4
  while (pickedRight(high, k, first - 1, rule) < probability) [low, high] = [high, 2 * high]
  while (high - low > 1e-8 * high) {
    const middle = (low + high) / 2
    if (pickedRight(middle, k, first - 1, rule) < probability) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** Replications of one system by Rinott's rule: its standard deviation from the first stage, and the difference worth telling. */
export function rinottReplications(h: number, sd: number, delta: number, first: number): number {
  return Math.max(first, Math.ceil(((h * sd) / delta) ** 2))
}

interface Rule {
  /** Values of a chi-square variable and their probabilities. */
  readonly x: readonly number[]
  readonly weight: readonly number[]
}

/** The trapezoidal rule in log x: both tails die out so fast that it converges like a Gauss rule. */
function chiSquareRule(degrees: number): Rule {
  const half = degrees / 2
  const logDensity = (s: number) => half * s - Math.exp(s) / 2 - half * Math.LN2 - gammaln(half)
  const top = Math.log(degrees)
  const floor = logDensity(top) - LEFT_OUT
  const step = STEP * Math.sqrt(2 / degrees)
  const points = [top]
  for (let s = top - step; logDensity(s) > floor; s -= step) points.unshift(s)
  for (let s = top + step; logDensity(s) > floor; s += step) points.push(s)
  return { x: points.map(Math.exp), weight: points.map(s => step * Math.exp(logDensity(s))) }
}

function pickedRight(h: number, k: number, degrees: number, { x, weight }: Rule): number {
  return x.reduce((sum, y, j) => {
    const beats = x.reduce(
      (inner, other, i) => inner + weight[i] * normalCdf(h / Math.sqrt(degrees * (1 / other + 1 / y)), 0, 1),
      0,
    )
    return sum + weight[j] * beats ** (k - 1)
  }, 0)
}
