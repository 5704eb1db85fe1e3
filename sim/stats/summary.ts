/**
 * Mean, by compensated summation: right to the last digit or two even when the
 * values share their leading digits. Rounding never carries it past the least or
 * the largest value, so the mean of equal values is that value.
 * Source of the summation: Neumaier (1974), Zeitschrift fuer angewandte Mathematik
 * und Mechanik 54, 39-51.
 *
 * Throws RangeError without a value.
 */
export function mean(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('a mean needs at least one value')
  let least = Infinity
  let most = -Infinity
  for (const value of values) {
    least = Math.min(least, value)
    most = Math.max(most, value)
  }
  return Math.min(most, Math.max(least, sum(values) / values.length))
}

/**
 * Sample standard deviation, divided by n - 1.
 *
 * Two passes with the corrected sum of squares (Chan, Golub & LeVeque 1983, The
 * American Statistician 37, 242-247): the second sum takes away what is left of
 * the rounding of the mean. Throws RangeError below two values.
 */
export function standardDeviation(values: readonly number[]): number {
  if (values.length < 2) throw new RangeError('a standard deviation needs at least two values')
  const centre = mean(values)
  const distances = values.map(value => value - centre)
  const left = sum(distances)
  const squares = sum(distances.map(distance => distance * distance))
  return Math.sqrt((squares - (left * left) / values.length) / (values.length - 1))
}

/**
 * Correlation of each value with the next, by NIST's convention: the mean and the
 * sum of squares are those of the whole series,
 * r = sum (x_i - m)(x_(i+1) - m) / sum (x_i - m)^2.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.12.
 *
 * Not a number when all values are equal. Throws RangeError without a value.
 */
export function lag1Autocorrelation(values: readonly number[]): number {
  const centre = mean(values)
  const distances = values.map(value => value - centre)
  const products = distances.slice(1).map((distance, i) => distance * distances[i])
  return sum(products) / sum(distances.map(distance => distance * distance))
}

function sum(values: readonly number[]): number {
  let total = 0
  let lost = 0
  for (const value of values) {
    const next = total + value
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total
    total = next
  }
  return total + lost
}
