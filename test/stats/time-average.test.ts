import { describe, expect, it } from 'vitest'
import { type Step, timeAverage, timeMaximum } from '../../sim/stats/time-average.ts'

const steps: readonly Step[] = [
  [0, 2],
  [10, 6],
  [10, 8],
  [15, 4],
]

describe('time average', () => {
  it('weighs each value by how long it was held within the window', () => {
    // 5 at 2, 5 at 8, 5 at 4.
    expect(timeAverage(steps, 5, 20)).toBe(70 / 15)
    expect(timeAverage(steps, 0, 5)).toBe(2)
    expect(timeAverage(steps, 100, 101)).toBe(4)
  })

  it('of two windows is that of both together', () => {
    const both = 7 * timeAverage(steps, 1, 8) + 9 * timeAverage(steps, 8, 17)
    expect(Math.abs(both - 16 * timeAverage(steps, 1, 17))).toBeLessThan(1e-12)
  })

  it('of a window without length, or before the first step, is a mistake', () => {
    expect(() => timeAverage(steps, 5, 5)).toThrow(RangeError)
    expect(() => timeAverage(steps, -1, 5)).toThrow('no value is known at the start')
    expect(() => timeAverage([], 0, 5)).toThrow(RangeError)
  })
})

describe('time maximum', () => {
  it('is the largest value held for some time within the window', () => {
    expect(timeMaximum(steps, 0, 20)).toBe(8)
    expect(timeMaximum(steps, 0, 10)).toBe(2)
    expect(timeMaximum(steps, 15, 20)).toBe(4)
  })

  it('does not see a value that lasted no time', () => {
    const flash: readonly Step[] = [
      [0, 1],
      [5, 9],
      [5, 2],
    ]
    expect(timeMaximum(flash, 0, 10)).toBe(2)
  })
})
