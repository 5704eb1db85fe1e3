import { describe, expect, it } from 'vitest'
import { batchMeans, batchMeansEstimate } from '../../sim/stats/batch-means.ts'
import { bonferroniLevel } from '../../sim/stats/bonferroni.ts'
import { estimateFromMoments, halfWidth, relativeHalfWidth } from '../../sim/stats/estimate.ts'
import { pairedDifference } from '../../sim/stats/paired.ts'
import { quantile } from '../../sim/stats/quantile.ts'
import { replicationsNeeded } from '../../sim/stats/sample-size.ts'
import { studentFactor } from '../../sim/stats/student.ts'
import { lag1Autocorrelation, standardDeviation } from '../../sim/stats/summary.ts'
import { timeAverage, timeMaximum } from '../../sim/stats/time-average.ts'
import { relativelyCloseTo } from '../close.ts'
import lew from './data/nist-lew.json' with { type: 'json' }
import students from './data/student-quantiles.json' with { type: 'json' }

describe('Student t quantiles', () => {
  const rows = Object.entries(students.byDegrees).flatMap(([degrees, values]) =>
    values.map((value, i) => ({ degrees: Number(degrees), p: students.probabilities[i], value })),
  )
  // Table of NIST/SEMATECH e-Handbook 1.3.6.7.2; see the data file.
  it.each(rows)('P = $p with $degrees degrees of freedom: $value', ({ degrees, p, value }) => {
    relativelyCloseTo(studentFactor(2 * p - 1, degrees), value, 1e-8)
  })

  // Boost.Math, test/test_students_t.cpp, table by Shaw.
  it.each([
    { p: 0.99, degrees: 2, value: 6.96455673428326 },
    { p: 0.99, degrees: 5, value: 3.36492999890721 },
    { p: 0.975, degrees: 3, value: 3.1824463052837 },
  ])('$value as Boost.Math has it', ({ p, degrees, value }) => {
    relativelyCloseTo(studentFactor(2 * p - 1, degrees), value, 1e-12)
  })

  // alpha 0.05 over m comparisons: t(1 - 0.05 / (2 m)); arithmetic on the table above.
  it.each([
    { comparisons: 3, degrees: 9, value: 2.93332408837399 },
    { comparisons: 6, degrees: 9, value: 3.364203432439991 },
    { comparisons: 10, degrees: 9, value: 3.689662392304245 },
    { comparisons: 3, degrees: 19, value: 2.625105913222787 },
    { comparisons: 6, degrees: 19, value: 2.9438951534669195 },
    { comparisons: 10, degrees: 19, value: 3.1737245307923256 },
  ])('Bonferroni over $comparisons, $degrees degrees: $value', ({ comparisons, degrees, value }) => {
    relativelyCloseTo(studentFactor(bonferroniLevel(0.95, comparisons), degrees), value, 1e-8)
  })
})

describe('Student-t interval', () => {
  // NIST/SEMATECH e-Handbook 1.3.5.2, heat-flow data (ZARR13), as the Boost.Math documentation quotes it:
  // t 1.972, interval 9.25824 to 9.26468; more digits from the mean and sd there.
  it('of the heat-flow data', () => {
    const heatFlow = estimateFromMoments(9.261460758974358, 0.02278879742484173, 195, 0.95)
    relativelyCloseTo(studentFactor(0.95, 194), 1.9722675325821355, 1e-9)
    relativelyCloseTo(halfWidth(heatFlow) ?? NaN, 0.0032186216454838257, 1e-9)
    relativelyCloseTo(heatFlow.low ?? NaN, 9.258242137328875, 1e-9)
    relativelyCloseTo(heatFlow.high ?? NaN, 9.264679380619842, 1e-9)
  })
})

describe('paired-t', () => {
  // Student (1908), Biometrika 6, additional hours of sleep (data from memory); figures by closed form.
  const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2]
  const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]
  const difference = pairedDifference(first, second, 0.95)

  it('of the sleep data', () => {
    relativelyCloseTo(difference.mean, -1.58, 1e-8)
    relativelyCloseTo(difference.low ?? NaN, -2.459885763276983, 1e-8)
    relativelyCloseTo(difference.high ?? NaN, -0.7001142367230175, 1e-8)
    const statistic = (difference.mean / (halfWidth(difference) ?? NaN)) * studentFactor(0.95, 9)
    relativelyCloseTo(statistic, -4.062127683382037, 1e-8)
  })

  it('gains from pairing what the unpaired variances would have cost', () => {
    const differences = first.map((value, i) => value - second[i])
    relativelyCloseTo(standardDeviation(differences) ** 2, 1.512888888888889, 1e-8)
    const unpaired = standardDeviation(first) ** 2 + standardDeviation(second) ** 2
    relativelyCloseTo(unpaired, 7.209555555555555, 1e-8)
  })
})

describe('batch means', () => {
  // Definition: Law, Simulation Modeling and Analysis (from memory); figures by arithmetic.
  it('of 20 values in 5 batches', () => {
    const values = [12.1, 11.4, 13, 12.7, 11.9, 12.4, 13.3, 12.8, 11.6, 12]
    values.push(12.9, 13.5, 12.2, 11.7, 12.6, 13.1, 12.3, 11.8, 12.5, 13.2)
    const means = batchMeans(values, 5)
    for (const [i, expected] of [12.3, 12.6, 12.5, 12.4, 12.45].entries())
      relativelyCloseTo(means[i], expected, 1e-9)
    relativelyCloseTo(standardDeviation(means), 0.11180339887498968, 1e-9)
    relativelyCloseTo(lag1Autocorrelation(means), -0.35, 1e-9)
    const interval = batchMeansEstimate(values, 5, 0.95)
    relativelyCloseTo(interval.mean, 12.45, 1e-9)
    relativelyCloseTo(halfWidth(interval) ?? NaN, 0.1388222552598899, 1e-9)
    expect(interval.n).toBe(5)
  })

  // Data: NIST StRD Lew; figures by arithmetic.
  it('of the Lew data in 10 batches', () => {
    const means = batchMeans(lew.values, 10)
    const expected = [-174.7, -185.05, -180.75, -179.5, -179.85, -183.35, -178.5, -145.2, -187.35, -180.1]
    for (const [i, value] of expected.entries()) relativelyCloseTo(means[i], value, 1e-9)
    relativelyCloseTo(standardDeviation(means), 11.865825110608855, 1e-9)
    const interval = batchMeansEstimate(lew.values, 10, 0.95)
    relativelyCloseTo(interval.mean, -177.435, 1e-9)
    relativelyCloseTo(halfWidth(interval) ?? NaN, 8.488299937914169, 1e-9)
  })
})

describe('replications for a relative precision', () => {
  // Rule gamma / (1 + gamma): Law, Simulation Modeling and Analysis (from memory); figures by arithmetic.
  it('from a pilot of 10', () => {
    const pilot = { mean: 3600, sd: 45, n: 10 }
    const interval = estimateFromMoments(pilot.mean, pilot.sd, pilot.n, 0.95)
    relativelyCloseTo(relativeHalfWidth(interval) ?? NaN, 0.008941961324633308, 1e-9)
    expect(replicationsNeeded(pilot, 0.005, 0.95)).toBe(27)
  })
})

describe('sample quantiles, type 7', () => {
  // Hyndman & Fan (1996); figures by arithmetic.
  it.each([
    { p: 0.05, value: 1.815 },
    { p: 0.25, value: 2.975 },
    { p: 0.5, value: 5.15 },
    { p: 0.75, value: 7 },
    { p: 0.9, value: 8.11 },
    { p: 0.95, value: 8.605 },
  ])('at $p: $value', ({ p, value }) => {
    relativelyCloseTo(quantile([1.5, 2.2, 2.9, 3.2, 4.8, 5.5, 6.1, 7.3, 8, 9.1], p), value, 1e-12)
  })

  // d3-array, test/quantile-test.js.
  it.each([
    { p: 0.25, value: 7.25 },
    { p: 0.5, value: 9 },
    { p: 0.75, value: 14.5 },
  ])('quartile at $p as d3-array has it: $value', ({ p, value }) => {
    expect(quantile([3, 6, 7, 8, 8, 10, 13, 15, 16, 20], p)).toBe(value)
  })
})

describe('time average of a step function', () => {
  // Arithmetic, no source needed.
  it('0, 3, 1, 4, 0 from the times 0, 2, 5, 9, 10', () => {
    const steps = [
      [0, 0],
      [2, 3],
      [5, 1],
      [9, 4],
      [10, 0],
    ] as const
    expect(timeAverage(steps, 0, 12)).toBe(17 / 12)
    expect(timeAverage(steps, 4, 12)).toBe(1.375)
    expect(timeMaximum(steps, 0, 12)).toBe(4)
  })
})
