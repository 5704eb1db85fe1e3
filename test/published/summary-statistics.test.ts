import { describe, expect, it } from 'vitest'
import { lag1Autocorrelation, mean, standardDeviation } from '../../sim/stats/summary.ts'
import lew from './data/nist-lew.json' with { type: 'json' }
import lottery from './data/nist-lottery.json' with { type: 'json' }
import mavro from './data/nist-mavro.json' with { type: 'json' }
import michelso from './data/nist-michelso.json' with { type: 'json' }

/**
 * NIST Statistical Reference Datasets (StRD), univariate summary statistics.
 * Measured as NIST does, by the log relative error: digits that agree.
 */
function digits(found: number, certified: number): number {
  return found === certified ? 16 : -Math.log10(Math.abs(found / certified - 1))
}

function accuracySet(first: number, low: number, high: number): number[] {
  return [first, ...Array.from({ length: 500 }, () => [low, high]).flat()]
}

const measured = [
  { name: 'Lew', ...lew },
  { name: 'Mavro', ...mavro },
  { name: 'Michelso', ...michelso },
  { name: 'Lottery', ...lottery },
  {
    name: 'NumAcc1',
    values: [10000001, 10000003, 10000002],
    certified: { mean: 10000002, sd: 1, lag1: -0.5 },
  },
  { name: 'NumAcc2', values: accuracySet(1.2, 1.1, 1.3), certified: { mean: 1.2, sd: 0.1, lag1: -0.999 } },
]

/** Made by NIST to break formulas: their decimals are not doubles, so no double formula reaches 10 digits in sd. */
const hard = [
  {
    name: 'NumAcc3',
    values: accuracySet(1000000.2, 1000000.1, 1000000.3),
    certified: { mean: 1000000.2, sd: 0.1, lag1: -0.999 },
  },
  {
    name: 'NumAcc4',
    values: accuracySet(10000000.2, 10000000.1, 10000000.3),
    certified: { mean: 10000000.2, sd: 0.1, lag1: -0.999 },
  },
]

describe.each(measured)('NIST StRD $name', ({ values, certified }) => {
  it('mean and standard deviation to 12 digits', () => {
    expect(digits(mean(values), certified.mean)).toBeGreaterThan(12)
    expect(digits(standardDeviation(values), certified.sd)).toBeGreaterThan(12)
  })

  it('lag-1 autocorrelation to 10 digits', () => {
    expect(digits(lag1Autocorrelation(values), certified.lag1)).toBeGreaterThan(10)
  })
})

describe.each(hard)('NIST StRD $name', ({ values, certified }) => {
  it('mean to 12 digits, standard deviation to 8', () => {
    expect(digits(mean(values), certified.mean)).toBeGreaterThan(12)
    expect(digits(standardDeviation(values), certified.sd)).toBeGreaterThan(8)
  })

  it('lag-1 autocorrelation to 8 digits', () => {
    expect(digits(lag1Autocorrelation(values), certified.lag1)).toBeGreaterThan(8)
  })
})
