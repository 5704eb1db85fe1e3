import gammaln from '@stdlib/math-base-special-gammaln'
import { type GammaTails, gammaTails } from './gamma-tails.ts'
import { normalScore } from './normal.ts'

/**
 * ln x with P(X <= x) = `below` for the gamma law with scale 1, `above` being
 * 1 - below: both are asked for so that neither tail loses digits. Absolute
 * accuracy in ln x (so relative in x) 1e-12 for shapes from 1e-3 to 1e6.
 *
 * Newton's method on the logarithm of the smaller tail as a function of ln x.
 * ln X has a log-concave density, so both logarithms of its tails are concave:
 * the steps overshoot at most once, and a bracket keeps them safe.
 */
export function gammaLogQuantile(shape: number, below: number, above: number): number {
  if (below <= 0) return -Infinity
  if (above <= 0) return Infinity
  return solve(gammaTails(shape), firstGuess(shape, below, above), below, above)
}

const MOST_STEPS = 200

function solve(tails: GammaTails, guess: number, below: number, above: number): number {
  const lower = below <= above
  const target = Math.log(lower ? below : above)
  let least = -Infinity
  let most = Infinity
  let logX = guess
  for (let step = 0; step < MOST_STEPS; step++) {
    const tail = lower ? tails.below(logX) : tails.above(logX)
    const tooLarge = lower ? tail > target : tail < target
    if (tooLarge) most = logX
    else least = logX
    const slope = Math.exp(tails.density(logX) - tail)
    const move = (lower ? target - tail : tail - target) / slope
    const next = inBracket(logX + move, least, most)
    if (Math.abs(next - logX) <= 1e-15 * Math.max(1, Math.abs(logX))) return next
    logX = next
  }
  return logX
}

/** A step that leaves the bracket, or is not a number, is halved into it; an open end moves out by one. */
function inBracket(logX: number, least: number, most: number): number {
  if (logX >= least && logX <= most) return logX
  if (least === -Infinity) return most - 1
  if (most === Infinity) return least + 1
  return (least + most) / 2
}

/**
 * Wilson & Hilferty (1931): the cube root of X / shape is nearly normal. Where
 * that fails, at small values, the first term of the power series.
 */
function firstGuess(shape: number, below: number, above: number): number {
  const score = below <= above ? normalScore(below) : -normalScore(above)
  const root = 1 - 1 / (9 * shape) + score / (3 * Math.sqrt(shape))
  if (root > 0.3) return Math.log(shape) + 3 * Math.log(root)
  return (Math.log(below) + gammaln(shape + 1)) / shape
}
