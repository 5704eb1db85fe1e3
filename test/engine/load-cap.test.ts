import { describe, expect, test } from 'vitest'
import type { Batch, Route, Step } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Loads that start only while a later step takes in time what has been loaded before: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** A wafer a second into loads of 2; `behind` holds what comes out, at the seconds of `puts('behind')`. */
const tubes = (batch: Partial<Batch>, ...after: Route): Route => [
  { step: 'in', cycle: '1 s' },
  { buffer: 'before', capacity: 500 },
  { step: 'tube', batch: { load: 2, time: '4 s', ...batch } },
  { buffer: 'behind', capacity: 500 },
  ...after,
]
const slow: Step = { step: 'slow', cycle: '20 s' }

describe.each(DRIVES)('%s drive', drive => {
  test('a load starts when there is room for it below the cap', () => {
    // Loads at 2 s and 6 s: 4 wafers, of which the slow step takes one at 6 s. The next load needs two gone: those taken at 6 s
    // and 26 s. Then two every 40 s: 46 and 66 s, 86 and 106 s. Each is done 4 s later.
    const { puts, figures } = observe(tubes({ cap: { wafers: 4, until: 'slow' } }, slow), 120, drive)
    expect(puts('behind')).toEqual([6, 6, 10, 10, 30, 30, 70, 70, 110, 110])
    // Without: a load every 4 s.
    expect(observe(tubes({}, slow), 20, drive).puts('behind')).toEqual([6, 6, 10, 10, 14, 14, 18, 18])
    expect(figures.steps[1].startsPerHour).toBeCloseTo((10 / 120) * 3600, 9)
  })

  test('a step between counts, where its wafers still are', () => {
    // Loads of 2 s and 6 s; wafers pass the step between at 9, 12, 15, 18 s (3 s each from 6 s on) and are taken by the slow step
    // at 9 s, 29 s: next load at 29 s.
    const between: Route = [{ step: 'between', cycle: '3 s' }, { buffer: 'store', capacity: 9 }, slow]
    const { puts } = observe(tubes({ cap: { wafers: 4, until: 'slow' } }, ...between), 40, drive)
    expect(puts('behind')).toEqual([6, 6, 10, 10, 33, 33])
    expect(puts('store')).toEqual([9, 12, 15, 18, 36, 39])
  })

  test('wafers lost on the way make room', () => {
    // Done at 6 s, lost at 7 and 8 s; the load of 8 s is done at 12 s, lost at 13 and 14 s.
    const route = tubes(
      { cap: { wafers: 2, until: 'slow' } },
      { step: 'breaks', cycle: '1 s', breakage: '99.9999 %' },
      { buffer: 'store', capacity: 9 },
      slow,
    )
    const { puts, rows } = observe(route, 20, drive)
    expect(puts('behind')).toEqual([6, 6, 12, 12, 18, 18])
    expect(rows.audit.broken).toBe(5)
  })

  test('wafers that break in the load itself make room for the next at once', () => {
    const { puts, rows } = observe(
      tubes({ cap: { wafers: 2, until: 'slow' } }, slow).map(item =>
        'batch' in item ? { ...item, breakage: '99.9999 %' } : item,
      ) as Route,
      21,
      drive,
    )
    // Loads at 2, 6, 10, 14, 18 s, none of which comes out; that of 18 s is still in work.
    expect(puts('behind')).toEqual([])
    expect(rows.audit.broken).toBe(8)
  })

  test('a wafer that is sent back to the tube is on the way no more', () => {
    // Four wafers, 1 to 4 s, each goes back once. Load 1 2 goes back at 6 s and makes room for 3 4, which go back at 10 s and
    // make room for 1 2 again: done at 14 s. The slow step takes these at 14 and 34 s, so 3 4 start at 34 s, done at 38 s.
    const again = tubes({ cap: { wafers: 2, until: 'slow' } }, slow)
      .slice(1)
      .map(item =>
        'batch' in item
          ? { ...item, rework: { share: '99.9999 %', to: 'tube', atMost: 1, then: 'pass' } as const }
          : item,
      ) as Route
    const { puts } = observe(again, 60, drive, { feed: { every: '1 s', wafers: 4 } })
    // The hand-over at the way back takes a microsecond.
    expect(puts('behind')).toEqual([14, 14, 38, 38].map(time => expect.closeTo(time, 4)))
  })

  test('a short load waits for room for a full one', () => {
    // Wafers at 1 s (load of 1 after waiting 2 s: at 3 s), and so on; the cap of 2 has room for a full load only when the wafer
    // before has been taken: at 7 s, at once. Wafers of 2 and 3 s have been waiting: a full load at 7 s, done at 11 s.
    // The next needs both gone: taken at 27 and 47 s.
    const batch = { load: 2, least: 1, longestWait: '2 s' } as const
    const route = tubes({ ...batch, cap: { wafers: 2, until: 'slow' } }, slow)
    expect(observe(route, 60, drive).puts('behind')).toEqual([6, 6, 30, 30])
  })

  test('in lanes each lane counts its own, until the step behind takes them', () => {
    // Lane A has its load at 3 s, done at 7 s, lane B at 4 s and 8 s. The slow step takes A's at 7 and 27 s, B's at 47 and 67 s:
    // next load in A at 27 s, in B at 67 s; then 107 s and 147 s.
    const lane: Route = [
      { buffer: 'before', capacity: 10 },
      { step: 'tube', batch: { load: 2, time: '4 s', cap: { wafers: 2, until: 'slow' } } },
      { buffer: 'behind', capacity: 10 },
    ]
    const { puts } = observe(
      [
        { step: 'in', cycle: '1 s' },
        { buffer: 'store', capacity: 9 },
        { group: 'lanes', lanes: ['A', 'B'], each: lane, split: 'in turn' },
        { buffer: 'joined', capacity: 100 },
        slow,
      ],
      160,
      drive,
    )
    const done = [7, 7, 8, 8, 31, 31, 71, 71, 111, 111, 151, 151]
    // A hand-over takes a microsecond.
    expect(puts('behind')).toEqual(done.map(time => expect.closeTo(time, 4)))
  })
})
