import { describe, expect, test } from 'vitest'
import type { Line, Route } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Recipes, drift, hidden defects, what is held up: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const wafer: Partial<Line> = { wafer: { area: '330 cm2', efficiency: { mean: '20 %' } } }
const SURE = '99.9999 %'
const tester = { step: 'test', cycle: '1 s', test: { noise: '0 %' } } as const

describe.each(DRIVES)('%s drive', drive => {
  test.each([
    ['fast', [5, 10, 15], 0.19],
    ['good', [10, 20, 30], 0.21],
  ] as const)('the recipe %s changes the rate and the efficiency', (recipe, expected, mean) => {
    const recipes = {
      fast: { cycle: '5 s', effect: { shift: '-1 %' } },
      good: { effect: { shift: '1 %' } },
    } as const
    const { exits, figures } = observe([{ step: 'a', cycle: '10 s', recipes, recipe }], 100, drive, wafer)
    expect(exits.slice(0, 3)).toEqual(expected)
    expect(figures.efficiency).toBeCloseTo(mean, 12)
  })

  test('drift is a saw-tooth: half its height on average', () => {
    // 4 % at its end, from nothing, in 100 wafers: 2 % on average, to a hundredth of 4 %. 40 times 100 wafers and a stop of 10 s.
    const stop = { stop: 'change', counts: 'wafers', every: 100, lasts: '10 s', kind: 'supply' } as const
    const drift = { until: 'change', loses: '4 %' } as const
    const { figures } = observe([{ step: 'a', cycle: '1 s', stops: [stop], drift }], 4400, drive, wafer)
    expect(Math.abs((figures.efficiency ?? 0) - 0.18)).toBeLessThanOrEqual(0.0004)
  })

  test('hidden defects go on to the tester and are put down to the step that made them', () => {
    // Every wafer of print gets one; dry and test make none.
    const route: Route = [
      { step: 'print', cycle: '1 s', defects: SURE },
      { step: 'dry', cycle: '1 s' },
      tester,
    ]
    const { figures, rows } = observe(route, 1000, drive, wafer)
    // In at 0 s; out of test at 3, 4, ... 999 s; what falls on the end of the run is not in it.
    expect(rows.audit).toMatchObject({ good: 0, rejected: 997, broken: 0, lost: 0 })
    // Of 998 that the tester took.
    expect(figures.steps.map(step => step.rejected)).toEqual([0, 0, 997 / 998])
    expect(figures.originsPerDay).toEqual([997 * 86.4, 0, 0])
  })

  test('what the tester does not find passes', () => {
    const route: Route = [
      { step: 'print', cycle: '1 s', defects: SURE },
      { ...tester, test: { noise: '0 %', finds: '0 %' } },
    ]
    expect(observe(route, 100, drive, wafer).rows.audit).toMatchObject({ good: 98, rejected: 0 })
  })

  test('a wafer that is held up loses', () => {
    // a hands its first wafer over at 1 s, each other when b takes it, 9 s after it is done: out by 105 s are 10, nine of them held.
    const route: Route = [
      { step: 'a', cycle: '1 s', heldUp: { after: '5 s', loses: '1 %' } },
      { step: 'b', cycle: '10 s' },
    ]
    const { figures, rows } = observe(route, 105, drive, wafer)
    expect(rows.audit.good).toBe(10)
    expect(figures.efficiency).toBeCloseTo(0.2 - (0.01 * 9) / 10, 12)
  })

  test('of a load those lose that wait long for a place', () => {
    // Loads of 6, the first ready at 6 s, before two places and a tool of 4 s. Done at 26 s: three go on at once, one each at
    // 30, 34 and 38 s: two of them are held for more than 5 s. Then the next load begins, done at 58 s, and so on.
    const route: Route = [
      { step: 'in', cycle: '1 s' },
      { buffer: 'before', capacity: 30 },
      { step: 'tube', batch: { load: 6, time: '20 s' }, heldUp: { after: '5 s', loses: '1 %' } },
      { buffer: 'after', capacity: 2 },
      { step: 'slow', cycle: '4 s' },
    ]
    const { figures, rows, exits } = observe(route, 345, drive, wafer)
    expect(exits.slice(0, 8)).toEqual([30, 34, 38, 42, 46, 50, 62, 66])
    expect(rows.audit.good).toBe(60)
    expect(figures.efficiency).toBeCloseTo(0.2 - (0.01 * 2) / 6, 12)
  })

  test.each([
    ['6 s', 10],
    ['5 s', 0],
  ] as const)('wafers on a belt that a stop lets stand for %s: %i are held up', (lasts, held) => {
    // In at 0, 1, ... s, inside for 10 s: at 20.5 s those of 11 to 20 s are on the belt.
    const stop = { stop: 's', counts: 'calendar time', every: '9 h', first: '20.5 s', lasts } as const
    const belt = { spacing: '1 s', transit: '10 s' } as const
    const heldUp = { after: '5 s', loses: '1 %' } as const
    const { figures, rows } = observe(
      [{ step: 'a', belt, heldUp, stops: [{ ...stop, inside: 'resume' }] }],
      100,
      drive,
      wafer,
    )
    expect(rows.audit.good).toBeGreaterThan(80)
    expect(figures.efficiency).toBeCloseTo(0.2 - (0.01 * held) / rows.audit.good, 12)
  })

  test('downgraded cells are good and go to the low-grade box', () => {
    const route: Route = [{ ...tester, test: { noise: '0 %', downgrades: SURE } }]
    const bins = { first: '15 %', width: '1 %', count: 10 } as const
    const { figures, rows } = observe(route, 100, drive, { ...wafer, bins })
    expect(rows.audit.good).toBe(99)
    expect(figures.bins[0]).toBe(1)
  })
})
