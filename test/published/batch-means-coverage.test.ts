import { describe, expect, it } from 'vitest'
import { sampler } from '../../sim/chance/sampler.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { batchMeans, batchMeansEstimate } from '../../sim/stats/batch-means.ts'
import { estimate } from '../../sim/stats/estimate.ts'

/**
 * First-order autoregressive series with phi 0.8 and variance 1, mean 0, 10 000
 * values, 1000 series. The variance of a mean of m values is
 * (1/m) ((1 + phi)/(1 - phi) - 2 phi (1 - phi^m) / (m (1 - phi)^2)), the
 * covariance of neighbouring batch means (phi / m^2) ((1 - phi^m) / (1 - phi))^2.
 * Sources: Fishman, Principles of Discrete Event Simulation; Law, Simulation
 * Modeling and Analysis (both from memory); figures by these closed forms.
 */
const PHI = 0.8
const LENGTH = 10_000
const SERIES = 1000
const LEVEL = 0.999

function autoregressive(index: number): number[] {
  const law = { kind: 'normal', mean: 0, sd: 1, least: -Infinity, most: Infinity } as const
  const draw = sampler(law, openStream('autoregressive', index))
  const innovation = Math.sqrt(1 - PHI * PHI)
  const values: number[] = []
  let value = draw()
  for (let i = 0; i < LENGTH; i++) {
    values.push(value)
    value = PHI * value + innovation * draw()
  }
  return values
}

/** The closed form lies in the 99.9 % interval of the figures, one per series. */
function covers(figures: readonly number[], expected: number): void {
  const { low = NaN, high = NaN } = estimate(figures, LEVEL)
  expect(low).toBeLessThan(expected)
  expect(high).toBeGreaterThan(expected)
}

function meanSquare(means: readonly number[]): number {
  return means.reduce((sum, y) => sum + y * y, 0) / means.length
}

/** Mean product of neighbours; the true mean 0 is known, so nothing is biased. */
function meanProduct(means: readonly number[]): number {
  return means.slice(1).reduce((sum, y, i) => sum + y * means[i], 0) / (means.length - 1)
}

describe('batch means of an autoregressive series', () => {
  const hundreds: number[][] = []
  const fiveHundreds: number[][] = []
  const whole: number[] = []
  let covered = 0
  for (let index = 0; index < SERIES; index++) {
    const series = autoregressive(index)
    hundreds.push(batchMeans(series, 100))
    fiveHundreds.push(batchMeans(series, 20))
    whole.push(batchMeans(series, 1)[0])
    const { low = NaN, high = NaN } = batchMeansEstimate(series, 20, 0.95)
    if (low < 0 && high > 0) covered++
  }

  it('have the variance of the closed form', () => {
    covers(fiveHundreds.map(meanSquare), 0.01784)
    covers(hundreds.map(meanSquare), 0.08600000000081483)
  })

  it('are correlated with their neighbours as the closed form says', () => {
    covers(fiveHundreds.map(meanProduct), 0.004484304932735427 * 0.01784)
    covers(hundreds.map(meanProduct), 0.023255813943793453 * 0.08600000000081483)
  })

  it('approach the asymptotic variance constant 9', () => {
    covers(
      whole.map(mean => LENGTH * mean * mean),
      9 - (2 * PHI) / (LENGTH * (1 - PHI) ** 2),
    )
  })

  it('give 95 % intervals that cover in 95 % of 1000 series, within the 99.9 % binomial band of 0.023', () => {
    expect(Math.abs(covered / SERIES - 0.95)).toBeLessThanOrEqual(0.023)
  })
})
