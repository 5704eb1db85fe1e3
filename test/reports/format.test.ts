import { describe, expect, it } from 'vitest'
import { amount, decimalsOf, figure, grouped, percent, significant } from '../../reports/view/format.ts'
import { percentOfSum } from '../../reports/view/rows.ts'
import { shortened, wrapped } from '../../reports/view/width.ts'
import { estimate } from './fixture.ts'

/** Expected values: the rounding worked out by hand. */

describe('a figure', () => {
  it('of what cannot be below zero does not say that it could', () => {
    expect(figure(estimate(4000, 6000))).toEqual({ text: '4,000', interval: '-2,000 to 10,000' })
    expect(amount(estimate(4000, 6000))).toEqual({ text: '4,000', interval: '0 to 10,000' })
    expect(percent(estimate(0.02, 0.05)).interval).toBe('0 to 7')
  })

  it('ends at the first digit of its half-width', () => {
    expect(figure(estimate(6512.34, 18.4))).toEqual({ text: '6,510', interval: '6,490 to 6,530' })
    expect(figure(estimate(6512.34, 0.42)).text).toBe('6,512.3')
    expect(figure(estimate(0.0655, 0.0002)).text).toBe('0.0655')
    expect(figure(estimate(1234567, 4200)).text).toBe('1,235,000')
  })

  it('ends at the second digit when two are asked for', () => {
    expect(figure(estimate(6512.34, 18.4), { digits: 2 })).toEqual({
      text: '6,512',
      interval: '6,494 to 6,531',
    })
    expect(figure(estimate(6512.34, 1.84), { digits: 2 }).text).toBe('6,512.3')
  })

  it('that happened does not read as 0, however wide its interval, when that is asked for', () => {
    const wide = estimate(3.2, 26)
    expect(figure(wide).text).toBe('0')
    expect(figure(wide, { keep: 'first digit' })).toEqual({ text: '3', interval: '-23 to 29' })
    expect(figure(estimate(0, 26), { keep: 'first digit' }).text).toBe('0')
    expect(figure(estimate(6512.34, 18.4), { keep: 'first digit' }).text).toBe('6,510')
    expect(figure(estimate(0.012, 3), { keep: 'first digit', most: 2 }).text).toBe('0.01')
  })

  it('has no interval after one replication, and few digits', () => {
    expect(figure(estimate(6512.34))).toEqual({ text: '6,512', interval: '' })
    expect(figure(estimate(0.123456)).text).toBe('0.123')
    expect(figure(estimate(0.123456), { digits: 2 }).text).toBe('0.1235')
  })

  it('is shown as it is when all replications agree', () => {
    expect(figure(estimate(3600, 0))).toEqual({ text: '3,600', interval: '3,600 to 3,600' })
    expect(figure(estimate(1 / 3, 0)).text).toBe('0.333333')
    expect(figure(estimate(0, 0)).text).toBe('0')
  })

  it('that is no number reads as nothing', () => {
    expect(figure(estimate(Number.NaN)).text).toBe('–')
    expect(figure({ mean: 0, n: 0 })).toEqual({ text: '–', interval: '' })
    expect(figure({ mean: Number.NaN, low: Number.NaN, high: Number.NaN, n: 3 })).toEqual({
      text: '–',
      interval: '',
    })
  })

  it('below zero keeps its sign, unless it rounds to zero', () => {
    expect(figure(estimate(-12.34, 0.3)).text).toBe('-12.3')
    expect(figure(estimate(-0.001, 0.3)).text).toBe('0.0')
    expect(figure(estimate(-1234.6, 40)).text).toBe('-1,230')
  })
})

describe('per cent', () => {
  it('has one decimal at most', () => {
    expect(percent(estimate(0.93127, 0.00002))).toEqual({ text: '93.1', interval: '93.1 to 93.1' })
    expect(percent(estimate(0.93127, 0.02)).text).toBe('93')
    expect(percent(estimate(0.93127, 0.00002), { most: 3 }).text).toBe('93.127')
  })

  it('of a sum is rounded to its widest part', () => {
    expect(percentOfSum([estimate(0.054, 0.02), estimate(0.0061, 0.0004)])).toBe('6')
    expect(percentOfSum([estimate(0.054, 0.001), estimate(0.0061, 0.0004)])).toBe('6.0')
    expect(percentOfSum([estimate(0.054), estimate(0.0061)])).toBe('6.0')
  })
})

describe('numbers', () => {
  it('are grouped by thousands', () => {
    expect(grouped(1234567.891, 2)).toBe('1,234,567.89')
    expect(grouped(999, 0)).toBe('999')
    expect(grouped(1000, 0)).toBe('1,000')
    expect(grouped(1250, -2)).toBe('1,300')
    expect(grouped(Number.POSITIVE_INFINITY, 1)).toBe('–')
  })

  it('keep a few digits', () => {
    expect(significant(7012.345, 4)).toBe('7,012')
    expect(significant(0.05, 2)).toBe('0.05')
    expect(significant(12.5, 3)).toBe('12.5')
    expect(significant(10, 6)).toBe('10')
  })

  it('have decimals down to their interval', () => {
    expect(decimalsOf(estimate(100, 30))).toBe(-1)
    expect(decimalsOf(estimate(100, 3))).toBe(0)
    expect(decimalsOf(estimate(100, 0.03))).toBe(2)
    expect(decimalsOf(estimate(100, 0.03), { scale: 100 })).toBe(0)
  })
})

describe('a text too wide', () => {
  it('is cut where it tells least, between characters', () => {
    expect(shortened('front print', 11)).toBe('front print')
    expect(shortened('lane 1 front print 12', 12)).toBe('lane 1 fr…12')
    expect(shortened('印刷工程の長い名前', 8)).toBe('印刷…前')
    expect(shortened('👩‍🔬👩‍🔬👩‍🔬👩‍🔬', 5)).toBe('👩‍🔬👩‍🔬…')
    expect(shortened('abc', 1)).toBe('…')
  })

  it('is broken at blanks', () => {
    expect(wrapped('one two three', 7)).toEqual(['one two', 'three'])
    expect(wrapped('a very-long-word', 8)).toEqual(['a', 'very-…rd'])
    expect(wrapped('', 5)).toEqual([''])
  })
})
