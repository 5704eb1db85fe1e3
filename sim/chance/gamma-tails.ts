import gammainc from '@stdlib/math-base-special-gammainc'
import gammaln from '@stdlib/math-base-special-gammaln'

/**
 * Logarithms of both tails of the gamma law with scale 1, as functions of
 * ln x. The logarithm of x is taken since x itself underflows at small shapes.
 */
export interface GammaTails {
  /** ln P(X <= x). */
  readonly below: (logX: number) => number
  /** ln P(X > x). */
  readonly above: (logX: number) => number
  /** ln(x f(x)), f the density: the derivative of P(X <= x) by ln x. */
  readonly density: (logX: number) => number
}

/** Above this shape x exceeds 1000, where gammainc 0.3.1 is wrong by up to 2 % near x = shape. */
const LARGE_SHAPE = 500
/** Below ln x = -20 one correction term of the power series is exact to a double. */
const POWER_SERIES = -20
/** Either expansion needs a few times sqrt(shape) terms. */
const MOST_TERMS = 100_000

/** Tails for one shape, from 1e-3 to 1e7. Relative accuracy of the probabilities 1e-12 or better. */
export function gammaTails(shape: number): GammaTails {
  return shape > LARGE_SHAPE ? largeShapeTails(shape) : libraryTails(shape)
}

function libraryTails(shape: number): GammaTails {
  const logGamma = gammaln(shape)
  const logGammaPlusOne = gammaln(shape + 1)
  const powerSeries = (logX: number) =>
    shape * logX - logGammaPlusOne + Math.log1p((-shape / (shape + 1)) * Math.exp(logX))
  return {
    below: logX =>
      logX < POWER_SERIES ? powerSeries(logX) : Math.log(gammainc(Math.exp(logX), shape, true, false)),
    above: logX =>
      logX < POWER_SERIES
        ? Math.log(-Math.expm1(powerSeries(logX)))
        : Math.log(gammainc(Math.exp(logX), shape, true, true)),
    density: logX => shape * logX - Math.exp(logX) - logGamma,
  }
}

/**
 * Large shapes: series below x = a + 1 and continued fraction above.
 * Sources: NIST Digital Library of Mathematical Functions 8.11.4 (series) and
 * 8.9.2 (continued fraction); Stirling's series for ln Gamma, 5.11.1.
 */
function largeShapeTails(shape: number): GammaTails {
  const stirling = 1 / (12 * shape) - 1 / (360 * shape ** 3)
  const logScale = 0.5 * Math.log(shape / (2 * Math.PI)) - stirling
  // ln(x^a e^-x / Gamma(a)) by the relative distance of x from a: the large terms have cancelled on paper.
  const density = (logX: number) => {
    const distance = Math.expm1(logX - Math.log(shape))
    return logScale + shape * (Math.log1p(distance) - distance)
  }
  const below = (logX: number, x: number) => density(logX) + Math.log(lowerSeries(shape, x))
  const above = (logX: number, x: number) => density(logX) + Math.log(upperFraction(shape, x))
  const complement = (logP: number) => Math.log(-Math.expm1(logP))
  return {
    density,
    below: logX => {
      const x = Math.exp(logX)
      return x < shape + 1 ? below(logX, x) : complement(above(logX, x))
    },
    above: logX => {
      const x = Math.exp(logX)
      return x < shape + 1 ? complement(below(logX, x)) : above(logX, x)
    },
  }
}

/** Sum of x^n / (a (a + 1) ... (a + n)) over n >= 0. */
function lowerSeries(shape: number, x: number): number {
  let term = 1 / shape
  let sum = term
  for (let n = 1; term > sum * 1e-17 && n < MOST_TERMS; n++) {
    term *= x / (shape + n)
    sum += term
  }
  return sum
}

/** 1 / (x + 1 - a - 1(1 - a) / (x + 3 - a - 2(2 - a) / (x + 5 - a - ...))), by the modified Lentz method. */
function upperFraction(shape: number, x: number): number {
  let term = x + 1 - shape
  let denominator = 1 / term
  let numerator = Infinity
  let value = denominator
  let change = Infinity
  for (let n = 1; Math.abs(change - 1) > Number.EPSILON && n < MOST_TERMS; n++) {
    const part = n * (shape - n)
    term += 2
    denominator = 1 / (term + part * denominator)
    numerator = term + part / numerator
    change = denominator * numerator
    value *= change
  }
  return value
}
