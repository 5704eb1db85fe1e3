import { describe, expect, it } from 'vitest'
import { type Law, mean, quantile, variance } from '../../sim/chance/law.ts'
import { sampler } from '../../sim/chance/sampler.ts'
import { openStream } from '../../sim/chance/streams.ts'
import { estimate } from '../../sim/stats/estimate.ts'
import { relativelyCloseTo } from '../close.ts'

/**
 * Moments and quantiles by closed form (Johnson, Kotz & Balakrishnan, Continuous
 * Univariate Distributions, from memory), computed with other code.
 * A lognormal, a Weibull and an Erlang law are given in their textbook parameters
 * first and in ours second.
 */
interface Case {
  readonly name: string
  readonly law: Law
  readonly mean: number
  readonly sd: number
  readonly median: number
  readonly p95: number
}

const CASES: readonly Case[] = [
  {
    name: 'lognormal, mu 2.228375, sigma 0.3852532: mean 10, cv 0.4',
    law: { kind: 'lognormal', mean: 10, cv: 0.4 },
    ...{ mean: 10, sd: 4, median: 9.284766908852593, p95: 17.497537638658308 },
  },
  {
    name: 'Weibull, shape 1.5, scale 100: mean 90.27',
    law: { kind: 'weibull', mean: 90.27452929509336, shape: 1.5 },
    ...{
      mean: 90.27452929509336,
      sd: 61.293579175467634,
      median: 78.32197687746513,
      p95: 207.81106375345564,
    },
  },
  {
    name: 'Weibull, mean 120, cv 0.5: shape 2.101349',
    law: { kind: 'weibull', mean: 120, shape: 2.1013490946885462 },
    ...{ mean: 120, sd: 60, median: 113.80224640379082, p95: 228.38105992755828 },
  },
  {
    name: 'gamma, shape 2.777778, scale 10.8: mean 30, cv 0.6',
    law: { kind: 'gamma', mean: 30, cv: 0.6 },
    ...{ mean: 30, sd: 18, median: 26.486985323937446, p95: 64.3785028252303 },
  },
  {
    name: 'triangular 20, 25, 40',
    law: { kind: 'triangular', least: 20, mode: 25, most: 40 },
    ...{ mean: 28.333333333333336, sd: 4.249182927993988, median: 27.75255128608411, p95: 36.12701665379258 },
  },
  {
    name: 'normal 50, 15 cut at 0',
    law: { kind: 'normal', mean: 50, sd: 15, least: 0, most: Infinity },
    ...{ mean: 50.02314411516613, sd: 14.961358848434411, median: 50.00806621110911, p95: 74.67592505503356 },
  },
  {
    name: 'normal 10, 6 cut at 2 and 20',
    law: { kind: 'normal', mean: 10, sd: 6, least: 2, most: 20 },
    ...{
      mean: 10.449707691334922,
      sd: 4.440958235620058,
      median: 10.32668125616547,
      p95: 18.013590877921377,
    },
  },
  {
    name: 'exponential, mean 45',
    law: { kind: 'exponential', mean: 45 },
    ...{ mean: 45, sd: 45, median: 31.191623125197538, p95: 134.80795230992956 },
  },
  {
    name: 'Erlang of 3 phases, mean 12: gamma with cv 1 / sqrt 3',
    law: { kind: 'gamma', mean: 12, cv: 1 / Math.sqrt(3) },
    ...{ mean: 12, sd: 6.928203230275509, median: 10.696241254894236, p95: 25.183174487487953 },
  },
  {
    name: 'uniform 8, 14',
    law: { kind: 'uniform', least: 8, most: 14 },
    ...{ mean: 11, sd: 1.7320508075688772, median: 11, p95: 13.7 },
  },
]

const DRAWS = 200_000
const LEVEL = 0.999

describe.each(CASES)('$name', expected => {
  it('has these moments and quantiles', () => {
    relativelyCloseTo(mean(expected.law), expected.mean, 1e-12)
    relativelyCloseTo(Math.sqrt(variance(expected.law)), expected.sd, 1e-12)
    relativelyCloseTo(quantile(expected.law, 0.5), expected.median, 1e-12)
    relativelyCloseTo(quantile(expected.law, 0.95), expected.p95, 1e-12)
  })

  it(`is drawn with this mean and sd: within their ${100 * LEVEL} % intervals`, () => {
    const draw = sampler(expected.law, openStream('distributions', 0, expected.name))
    const values = Array.from({ length: DRAWS }, draw)
    const squares = values.map(value => (value - expected.mean) ** 2)
    const ofMean = estimate(values, LEVEL)
    const ofVariance = estimate(squares, LEVEL)
    expect(ofMean.low).toBeLessThan(expected.mean)
    expect(ofMean.high).toBeGreaterThan(expected.mean)
    expect(ofVariance.low).toBeLessThan(expected.sd ** 2)
    expect(ofVariance.high).toBeGreaterThan(expected.sd ** 2)
  })
})
