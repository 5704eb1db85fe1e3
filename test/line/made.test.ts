import { describe, expect, it } from 'vitest'
import { capacityTable, lineYield } from '../../sim/line/capacity.ts'
import { routeOf, valid, warningsIn } from './lines.ts'

/** What testers reject on paper: of what the steps before them make of the wafers. Counted by hand. */

const wafer = (mean: string, more: object = {}) => ({ area: '330 cm2', efficiency: { mean, ...more } })
const test = (rejectBelow: string) => ({ step: 'test', cycle: '2 s', test: { rejectBelow } })
const yieldOf = (kind: object, ...route: unknown[]) => lineYield(valid({ ...routeOf(...route), wafer: kind }))

describe('a test rejects by the efficiency', () => {
  it('that the effects of the steps before it have shifted', () => {
    const gain = { step: 'gain', cycle: '1 s', effect: { shift: '0.5 %' } }
    // By hand: 22.4 + 0.5 = 22.9 %, four standard deviations of 0.1 % above the limit: 0.003 % below (standard tables).
    const kind = wafer('22.4 %', { sd: '0.1 %' })
    expect(yieldOf(kind, gain, test('22.5 %'))).toBeCloseTo(1 - 3.167e-5, 7)
    const rows = capacityTable(valid({ ...routeOf(gain, test('22.5 %')), wafer: kind }))
    expect(rows[1].goodPerHour).toBeCloseTo(1800, 0)
  })

  it('that they have scattered', () => {
    // By hand: 23 - 0.5 = 22.5 % is the limit: half of all, whatever the spread.
    const loss = { step: 'loss', cycle: '1 s', effect: { shift: '-0.5 %', sd: '0.1 %' } }
    expect(yieldOf(wafer('23 %', { sd: '0.1 %' }), loss, test('22.5 %'))).toBeCloseTo(0.5, 12)
    // By hand: spread of 0.3 and 0.4 is 0.5, the limit one of it below the mean: 15.866 % (standard tables).
    const spread = { step: 'spread', cycle: '1 s', effect: { sd: '0.4 %' } }
    expect(yieldOf(wafer('23 %', { sd: '0.3 %' }), spread, test('22.5 %'))).toBeCloseTo(
      1 - 0.15865525393145707,
      9,
    )
  })

  it('before its own effect, which is that of wafers which leave', () => {
    const own = { ...test('22.9 %'), effect: { shift: '-1 %' } }
    expect(yieldOf(wafer('23 %'), own)).toBe(1)
  })

  it('at the limit to a rounding passes', () => {
    // 0.224 + 0.005 is a little less than 0.229 in doubles.
    const gain = { step: 'gain', cycle: '1 s', effect: { shift: '0.5 %' } }
    expect(yieldOf(wafer('22.4 %'), gain, test('22.9 %'))).toBe(1)
  })

  it('that wear takes away evenly', () => {
    // By hand: evenly from 22.6 to 22.2 %, the limit a quarter of the way.
    const worn = {
      step: 'print',
      cycle: '1 s',
      stops: [{ stop: 'screen', counts: 'wafers', every: 1000, lasts: '0 s' }],
      drift: { until: 'screen', loses: '0.4 %' },
    }
    expect(yieldOf(wafer('22.6 %'), worn, test('22.5 %'))).toBeCloseTo(0.25, 4)
  })

  it('of the lane by which the wafer came', () => {
    // By hand: lane b makes a tenth of the wafers, and loses 1 %: 22 % is below the limit.
    const lanes = {
      a: [{ step: 'a', cycle: '1 s' }],
      b: [{ step: 'b', cycle: '9 s', effect: { shift: '-1 %' } }],
    }
    expect(yieldOf(wafer('23 %', { sd: '0.01 %' }), { group: 'g', lanes }, test('22.5 %'))).toBeCloseTo(
      0.9,
      12,
    )
  })

  it('of lanes in a row, however many ways there are', () => {
    // By hand: 9 groups of two equal lanes that lose 0 or 0.1 %; half of all ways lose less than the mean, 0.45 %.
    const groups = Array.from({ length: 9 }, (_, g) => ({
      group: `g${g}`,
      lanes: {
        [`a${g}`]: [{ step: `a${g}`, cycle: '1 s' }],
        [`b${g}`]: [{ step: `b${g}`, cycle: '1 s', effect: { shift: '-0.1 %' } }],
      },
    }))
    const route = groups.flatMap((group, g) => [{ buffer: `before ${g}`, capacity: 9 }, group])
    expect(yieldOf(wafer('23 %'), ...route, { buffer: 'last', capacity: 9 }, test('22.55 %'))).toBeCloseTo(
      0.5,
      2,
    )
  })
})

describe('the warning of a limit above the mean', () => {
  const step = (shift: string) => ({ step: 'gain', cycle: '1 s', effect: { shift } })
  const warned = (mean: string, shift: string) =>
    warningsIn({ ...routeOf(step(shift), test('22.5 %')), wafer: wafer(mean, { sd: '0.1 %' }) })

  it('looks at the mean that comes to the test', () => {
    expect(warned('22.4 %', '0.5 %')).toEqual([])
    expect(warned('23 %', '-0.6 %')).toEqual([
      'route[1] "test" → test → rejectBelow: found "22.5 %", expected less than the mean efficiency, 22.4 % (half of all cells or more are rejected)',
    ])
  })
})
