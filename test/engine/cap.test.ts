import { describe, expect, test } from 'vitest'
import { COUNTERS, STAY_SUM } from '../../sim/engine/meter.ts'
import type { Route } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** A cap on the wafers in the line: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const route: Route = [
  { step: 'a', cycle: '1 s' },
  { buffer: 'store', capacity: 100 },
  { step: 'b', cycle: '10 s' },
  { step: 'c', cycle: '5 s' },
]

describe.each(DRIVES)('%s drive', drive => {
  test('on the whole line: a wafer enters when one leaves', () => {
    // In at 0, 1, 2 s; the first out at 16 s, then one in 10 s, and with each one in.
    const { puts, exits, figures, rows } = observe(route, 1000, drive, { cap: { wafers: 3 } })
    expect(puts('store').slice(0, 6)).toEqual([1, 2, 3, 17, 27, 37])
    expect(exits.slice(0, 3)).toEqual([16, 26, 36])
    // Always three but in the first two seconds (1, then 2).
    expect(figures.wip).toBeCloseTo((3 * 1000 - 2 - 1) / 1000, 9)
    // Stays of 16, 25, 34 s, then 30 s each: cap = output x stay. Out by 1000 s: (1000 - 16) / 10, 99.
    expect(rows.audit.good).toBe(99)
    expect(rows.line.counters.at(STAY_SUM - COUNTERS)).toBe((16 + 25 + 34 + 30 * 96) * 1e6)
  })

  test('until a step takes it: the store before that step holds no more', () => {
    // Two between entering and b. In at 0 s, at 1 s (b takes the first), at 2 s? No: two are there at 1 s, one in a and none waiting: so
    // at 2 s one waits and a takes another. Then one whenever b takes: at 11, 21 s.
    const { puts } = observe(route, 1000, drive, { cap: { wafers: 2, until: 'b' } })
    expect(puts('store').slice(0, 6)).toEqual([1, 2, 3, 12, 22, 32])
  })

  test('until a load takes it: as many come in as it took', () => {
    // A load of 4 is ready when the fourth comes, and takes all: then the next four may enter, one a second, and wait for the tube.
    const tube: Route = [
      { step: 'a', cycle: '1 s' },
      { buffer: 'store', capacity: 50 },
      { step: 'b', batch: { load: 4, time: '20 s' } },
    ]
    const { puts } = observe(tube, 100, drive, { cap: { wafers: 4, until: 'b' } })
    expect(puts('store').slice(0, 12)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 25, 26, 27, 28])
  })

  test('until a step takes it, for the first time: what comes back from behind that step lets nothing more in', () => {
    // Each wafer goes back from c once, so b does two of 10 s per wafer: 50 good cells in 1000 s less the way of the first (1 + 2 (10 + 5) + 1 s).
    // Before b: two that the cap counts, and those that have come back, of which c can send one for each that b does.
    const back: Route = [
      ...route.slice(0, 3),
      { step: 'c', cycle: '5 s', rework: { share: '100 %', to: 'a', atMost: 1, then: 'pass' } },
    ]
    const { figures, rows } = observe(back, 10_000, drive, { cap: { wafers: 2, until: 'b' } })
    expect(rows.audit.good).toBeGreaterThan(490)
    expect(rows.audit.good).toBeLessThanOrEqual(500)
    expect(figures.wip).toBeLessThan(6)
  })
})
