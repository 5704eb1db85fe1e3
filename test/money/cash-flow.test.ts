import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  annuityFactor,
  internalRate,
  levelFlows,
  netPresentValue,
  paybackYears,
} from '../../sim/money/cash-flow.ts'
import { relativelyCloseTo } from '../close.ts'

describe('internal rate', () => {
  // numpy-financial, tests of irr: printed to 0.0524 and 0.28095; more digits by arithmetic.
  it.each([
    { flows: [-150000, 15000, 25000, 35000, 45000, 60000], rate: 0.05243 },
    { flows: [-100, 39, 59, 55, 20], rate: 0.28095 },
  ])('$rate as numpy-financial has it', ({ flows, rate }) => {
    expect(internalRate(flows)).toBeCloseTo(rate, 5)
  })

  it('makes the net present value zero', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1e6, noNaN: true }),
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        fc.integer({ min: 1, max: 25 }),
        (investment, share, years) => {
          const flows = levelFlows(investment, investment * share, years)
          const rate = internalRate(flows)
          if (rate === undefined) return
          expect(Math.abs(netPresentValue(flows, rate)) / investment).toBeLessThan(1e-6)
        },
      ),
    )
  })

  it('is not given where there is none, or may be more than one', () => {
    expect(internalRate([-100, -10])).toBeUndefined()
    expect(internalRate([100, 10])).toBeUndefined()
    expect(internalRate([-100, 300, -210])).toBeUndefined()
    expect(internalRate([])).toBeUndefined()
  })

  it('is the same for a loan as for the investment it pays', () => {
    relativelyCloseTo(
      internalRate([100, -39, -59, -55, -20]) ?? NaN,
      internalRate([-100, 39, 59, 55, 20]) ?? NaN,
      1e-12,
    )
  })
})

describe('payback', () => {
  it('never comes when the sum stays below zero', () => {
    expect(paybackYears([-100, 20, 20])).toBeUndefined()
  })

  it('falls within the year', () => {
    expect(paybackYears([-100, 50, 50, 50])).toBe(2)
    expect(paybackYears([-100, 40, 40, 40])).toBe(2.5)
  })
})

describe('annuity', () => {
  it('without interest is the number of years', () => {
    expect(annuityFactor(0, 7)).toBe(7)
  })

  it('is the sum of the single present values', () => {
    relativelyCloseTo(annuityFactor(0.07, 12), netPresentValue(levelFlows(0, 1, 12), 0.07), 1e-12)
  })

  it('refuses a rate that loses everything', () => {
    expect(() => annuityFactor(-1, 3)).toThrow(RangeError)
  })
})
