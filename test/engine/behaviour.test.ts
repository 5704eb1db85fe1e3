import { describe, expect, test } from 'vitest'
import {
  BLOCKED,
  COUNTERS,
  PRODUCTIVE,
  SCHEDULED_DOWN,
  STARVED,
  STAY_SUM,
  UNSCHEDULED_DOWN,
} from '../../sim/engine/meter.ts'
import type { Route } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Lines that a pencil solves; the arithmetic stands beside each. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** Tenths of a millisecond: what joins and splits take (a microsecond each) is not asked here. */
const near = (times: readonly number[], count: number) =>
  times.slice(0, count).map(t => Math.round(t * 1e4) / 1e4)

describe.each(DRIVES)('%s drive', drive => {
  test('a replay begins after the first stop, whose time is given', () => {
    // Down 15 to 20 s, so 10 to 25 s for the second wafer; due 20 s after that: 40 to 45 s, in the fourth.
    const every = { replayed: ['20 s', '1000 s'] } as const
    const { exits } = observe(
      [
        {
          step: 'tool',
          cycle: '10 s',
          stops: [{ stop: 's', counts: 'calendar time', every, first: '15 s', lasts: '5 s' }],
        },
      ],
      100,
      drive,
    )
    expect(exits.slice(0, 6)).toEqual([10, 25, 35, 50, 60, 70])
  })

  describe('belts', () => {
    const belt = (more: object, after: Route): Route => [
      { step: 'in', cycle: '1 s' },
      { buffer: 'before', capacity: 50 },
      { step: 'belt', belt: { spacing: '2 s', transit: '10 s', ...more } },
      ...after,
    ]

    test('wafers enter a slot apart and leave a transit later', () => {
      // First wafer done at 1 s, enters, leaves at 11 s; the next enters at 3 s.
      const { exits } = observe(belt({}, []), 500, drive)
      expect(exits.slice(0, 4)).toEqual([11, 13, 15, 17])
    })

    test('what is left of a slot after a stop is no start of a wafer: one that counts waits for the next', () => {
      // In at 0, 10, 20, 30 s. The second leaves at 30 s, so the first stop comes with the fourth: 30 to 42 s. The third
      // leaves at 40 s: the second stop is due, but the slot of the fourth goes on from 42 to 52 s. Then the fifth is taken, the
      // stop lasts until 57 s, and the fifth, which is on the belt, leaves at 72 s.
      const counted = (name: string, every: number, lasts: `${number} s`) => ({
        ...{ stop: name, counts: 'wafers' as const, every, lasts },
      })
      const stops = [counted('two', 2, '12 s'), counted('three', 3, '5 s')]
      const { exits } = observe(
        [{ step: 'belt', belt: { spacing: '10 s', transit: '20 s' }, stops }],
        100,
        drive,
      )
      expect(exits.slice(0, 5)).toEqual([20, 30, 40, 50, 72])
    })

    test('two lanes halve the slot', () => {
      const { exits } = observe(belt({ lanes: 2 }, []), 500, drive)
      expect(exits.slice(0, 4)).toEqual([11, 12, 13, 14])
    })

    test('run out holds wafers back until each inside has a place', () => {
      // Behind: 3 places, then a tool of 100 s. Wafers enter at 1, 3, 5 s: 3 reserved. The tool
      // takes the first at 11 s: a fourth may enter, at 11 s. Then one per 100 s.
      const { puts } = observe(
        belt({}, [
          { buffer: 'after', capacity: 3 },
          { step: 'slow', cycle: '100 s' },
        ]),
        1000,
        drive,
      )
      expect(puts('after').slice(0, 6)).toEqual([11, 13, 15, 21, 121, 221])
    })

    test('keepFree lets more in; what finds no place waits, and is scrapped after the tolerance', () => {
      // keepFree 1 of 3 places: while one of the places is free, wafers enter at 1, 3, ... every 2 s.
      // In: 1, 3, 5, 7, 9, 11 ... the places fill at 11 (straight into the tool), 13, 15, 17: full at 17.
      // Entered by then: 1, 3, ..., 15, 17 s (at 17 s the last place is taken by the wafer that leaves).
      // Those of 9, 11, 13, 15 s reach the end at 19 ... 25 s, find none, and are scrapped 5 s later.
      const { puts, rows } = observe(
        belt({ keepFree: 1, tolerance: '5 s' }, [
          { buffer: 'after', capacity: 3 },
          { step: 'slow', cycle: '1000 s' },
        ]),
        500,
        drive,
      )
      expect(puts('after')).toEqual([11, 13, 15, 17])
      expect(rows.audit.lost).toBe(4)
    })

    test('stop: the belt halts with its first wafer and shifts all others', () => {
      // Behind: 1 place, then a tool of 20 s. Wafers enter at 1, 3, 5, ... The first reaches the end at 11 s
      // (tool), the second at 13 s (place), the third at 15 s: halt until the tool takes again at 31 s.
      // Halted 16 s: the fourth, due at 17 s, is due at 33 s; there is no place until 51 s.
      const { puts } = observe(
        belt({ whenFull: 'stop' }, [
          { buffer: 'after', capacity: 1 },
          { step: 'slow', cycle: '20 s' },
        ]),
        500,
        drive,
      )
      expect(puts('after').slice(0, 5)).toEqual([11, 13, 31, 51, 71])
    })

    test('stop: takes no wafer while it stands, not from the tool before it either', () => {
      // Put at 7 and 14 s (7 s a wafer). The first reaches the tool at 13 s, which has it until 25 s; the second comes to
      // the end at 20 s and halts the belt. The third, done at 21 s, goes on it only at 25 s; at 31 s the belt stands again,
      // until 37 s; the fourth, done at 32 s, goes on it then; and so on.
      const { puts } = observe(
        [
          { step: 'print', cycle: '7 s' },
          { step: 'dryer', belt: { spacing: '3 s', transit: '6 s', whenFull: 'stop' } },
          { step: 'test', cycle: '12 s' },
        ],
        100,
        drive,
      )
      const between = puts('hand-over')
      expect(between.filter((_, put) => put === 0 || between[put] > between[put - 1])).toEqual(
        expect.arrayContaining([7, 14, 25, 37, 49, 61]),
      )
      expect(between).not.toContain(21)
    })

    test('stop: wafers inside are over-processed by a halt longer than the tolerance', () => {
      // As above: the first halt of 16 s, from 15 to 31 s, spoils all that are inside at 31 s: those of 7, 9, 11, 13 s.
      const { rows } = observe(
        belt({ whenFull: 'stop', tolerance: '10 s' }, [
          { buffer: 'after', capacity: 1 },
          { step: 'slow', cycle: '20 s' },
        ]),
        40,
        drive,
      )
      expect(rows.audit.lost).toBe(4)
    })

    test.each([
      // Wafers inside at 20 s entered at 11, 13, 15, 17, 19 s. Down from 20 to 30 s.
      ['run out', [11, 13, 15, 17, 19, 21, 23, 25, 27, 29, 41]],
      // The belt stands still for 10 s; the slot of the wafer of 19 s has 1 s left: the next enters at 31 s.
      ['resume', [11, 13, 15, 17, 19, 31, 33, 35, 37, 39, 41]],
      // All five are lost.
      ['lose', [11, 13, 15, 17, 19, 41]],
      // The two that entered last are lost: those of 17 and 19 s.
      [{ lose: 2 }, [11, 13, 15, 17, 19, 21, 23, 25, 41]],
    ] as const)('a stop with the fate %j', (inside, expected) => {
      const stop = {
        stop: 'fault',
        counts: 'calendar time',
        every: { replayed: ['20 s', '1000 s'] },
        lasts: '10 s',
        inside,
      } as const
      const route: Route = [
        { step: 'in', cycle: '1 s' },
        { buffer: 'before', capacity: 50 },
        { step: 'belt', belt: { spacing: '2 s', transit: '10 s' }, stops: [stop] },
      ]
      const { exits } = observe(route, 500, drive)
      expect(exits.slice(0, expected.length)).toEqual(expected)
    })
  })

  describe('batch tools', () => {
    test('a loader serves its tubes one at a time and unloads first', () => {
      // Wafers every second from 1 s on; load 4. Tube 1 loads 4 to 6 s, works to 26 s. Tube 2 loads 8 to 10 s, works to 30 s.
      // Tube 1 unloads 26 to 29 s, its wafers leave at 29 s. At 29 s a load waits: tube 1 loads 29 to 31 s, though
      // tube 2 is done at 30 s: it waits for the loader until 31 s and unloads until 34 s.
      const { exits } = observe(
        [
          { step: 'in', cycle: '1 s' },
          { buffer: 'before', capacity: 40 },
          { step: 'tubes', batch: { load: 4, tubes: 2, time: '20 s', loading: '2 s', unloading: '3 s' } },
        ],
        500,
        drive,
      )
      expect(exits.slice(0, 9)).toEqual([29, 29, 29, 29, 34, 34, 34, 34, 54])
    })

    test('a load without a place waits in its tube, wafer by wafer', () => {
      // Load of 3 ready at 3 s, done at 13 s; two places and a tool of 5 s: the tool takes one at once, two find places:
      // all out at 13 s. The next load, of 13 s, is done at 23 s: at 18 and 23 s the tool has taken two, so two go at
      // 23 s and the last at 28 s.
      const { puts } = observe(
        [
          { step: 'in', cycle: '1 s' },
          { buffer: 'before', capacity: 30 },
          { step: 'tube', batch: { load: 3, time: '10 s' } },
          { buffer: 'after', capacity: 2 },
          { step: 'slow', cycle: '5 s' },
        ],
        300,
        drive,
      )
      expect(puts('after').slice(0, 6)).toEqual([13, 13, 13, 23, 23, 28])
    })

    test('a short load starts when its least wafer has waited long enough', () => {
      // Wafers at 10, 20, 30, ... s; least 2, longest wait 15 s: the second is there at 20 s, the load starts at 35 s with
      // those of 10, 20, 30 s and takes 100 s.
      const { exits } = observe(
        [
          { step: 'in', cycle: '10 s' },
          { buffer: 'before', capacity: 30 },
          { step: 'tube', batch: { load: 8, least: 2, longestWait: '15 s', time: '100 s' } },
        ],
        300,
        drive,
      )
      // From 40 s on 8 wait by 110 s; the tube is free at 135 s.
      expect(near(exits, 11)).toEqual([135, 135, 135, ...Array(8).fill(235)])
    })
  })

  describe('stores', () => {
    test('last in, first out: the newest goes first', () => {
      // The tool takes the wafer of 1 s until 11 s; then the newest of those of 2 ... 10 s, and so on: stays of
      // the wafers that leave at 11, 21, 31 s: 10, 11 (of 10 s), 11 (of 20 s).
      const { rows } = observe(
        [
          { step: 'in', cycle: '1 s' },
          { buffer: 'stack', capacity: 100, order: 'last in, first out' },
          { step: 'slow', cycle: '10 s' },
        ],
        35,
        drive,
      )
      // Stays from the start of the first step (one second earlier): 11, 12, 12.
      expect(rows.audit.good).toBe(3)
      expect(rows.line.counters.at(STAY_SUM - COUNTERS)).toBe(35e6)
    })

    test('a conveyor takes its time, and holds what it holds', () => {
      // Transit 7 s, 2 wafers: in at 1 and 2 s, ready at 8 and 9 s; the tool of 3 s takes at 8 s: the third enters at 8 s
      // and is ready at 15 s; the second is taken at 11 s: the fourth enters then.
      const { puts, exits } = observe(
        [
          { step: 'in', cycle: '1 s' },
          { conveyor: 'link', transit: '7 s', capacity: 2 },
          { step: 'out', cycle: '3 s' },
        ],
        100,
        drive,
      )
      expect(puts('link').slice(0, 4)).toEqual([1, 2, 8, 11])
      expect(exits.slice(0, 4)).toEqual([11, 14, 18, 21])
    })

    test('capacity 0 hands over directly', () => {
      // A 2 s, B 3 s: B takes at 2, 5, 8 ...; A is blocked one second in three.
      const { exits, figures } = observe(
        [
          { step: 'a', cycle: '2 s' },
          { step: 'b', cycle: '3 s' },
        ],
        3000,
        drive,
      )
      expect(exits.slice(0, 3)).toEqual([5, 8, 11])
      expect(figures.steps[0].states[BLOCKED]).toBeCloseTo(1 / 3, 3)
    })

    test('least dwell holds a wafer even before an idle tool', () => {
      const { exits } = observe(
        [
          { step: 'in', cycle: '10 s' },
          { buffer: 'rest', capacity: 9, leastDwell: '25 s' },
          { step: 'out', cycle: '1 s' },
        ],
        200,
        drive,
      )
      expect(exits.slice(0, 2)).toEqual([36, 46])
    })
  })

  describe('lanes', () => {
    const lanes = (split: 'least full' | 'in turn', first: string): Route => [
      { step: 'in', cycle: '1 s' },
      {
        group: 'lanes',
        split,
        lanes: {
          A: [
            { buffer: 'bay A', capacity: 3 },
            { step: 'A', cycle: first as '4 s' },
          ],
          B: [
            { buffer: 'bay B', capacity: 3 },
            { step: 'B', cycle: '4 s' },
          ],
        },
      },
    ]

    test('in turn alternates while both have room', () => {
      const { puts } = observe(lanes('in turn', '4 s'), 9, drive)
      expect(near(puts('bay A'), 9)).toEqual([1, 3, 5, 7])
      expect(near(puts('bay B'), 9)).toEqual([2, 4, 6, 8])
    })

    test('in turn passes over a lane without room', () => {
      // Lane A (1000 s) holds one in work and three in its bay, then B alone.
      const { puts } = observe(lanes('in turn', '1000 s'), 200, drive)
      expect(puts('bay A')).toHaveLength(4)
      expect(puts('bay B').length).toBeGreaterThan(40)
    })

    test('least full fills the emptier bay', () => {
      // A (1000 s) takes the first and keeps it; its bay fills as that of B does: never more than one wafer ahead.
      const { puts } = observe(lanes('least full', '1000 s'), 9, drive)
      // 1 s: A. 2 s: B. Both at work, bays empty: 3 s A (longest without one), 4 s B, 5 s A: its bay holds two. At 6 s
      // B takes again and its bay is empty: 6 s B, 7 s B. Two each: 8 s A.
      expect(near(puts('bay A'), 9)).toEqual([1, 3, 5, 8])
      expect(near(puts('bay B'), 9)).toEqual([2, 4, 6, 7])
    })
  })

  test('a group that begins a lane shares its split: a wafer goes to the least full of all lanes', () => {
    const bay = (name: string): Route => [
      { buffer: `bay ${name}`, capacity: 3 },
      { step: name, cycle: '1000 s' },
    ]
    const inner = { group: 'inner', lanes: { 1: bay('A1'), 2: bay('A2') } }
    const { puts } = observe(
      [
        { step: 'in', cycle: '1 s' },
        { group: 'outer', lanes: { A: [inner], B: bay('B') } },
      ],
      20,
      drive,
    )
    // Each lane takes its first wafer to work; then the bays fill by turns.
    expect(near(puts('bay A1'), 20)).toEqual([1, 4, 7, 10])
    expect(near(puts('bay A2'), 20)).toEqual([2, 5, 8, 11])
    expect(near(puts('bay B'), 20)).toEqual([3, 6, 9, 12])
  })

  describe('stops', () => {
    test('a stop by wafers strikes at the start of the next wafer', () => {
      // Two wafers at 10 and 20 s; the third starts at 20 s, waits 7 s, is done at 37 s.
      const stop = { stop: 'change', counts: 'wafers', every: 2, lasts: '7 s', kind: 'scheduled' } as const
      const { exits, figures } = observe([{ step: 'a', cycle: '10 s', stops: [stop] }], 2700, drive)
      expect(exits.slice(0, 5)).toEqual([10, 20, 37, 47, 64])
      expect(figures.steps[0].states[SCHEDULED_DOWN]).toBeCloseTo(7 / 27, 2)
    })

    test('a starved tool does not wear; the calendar does not care', () => {
      // The tool works 2 s in 10. Running time: a stop every 20 s of work, so every 100 s; calendar: every 50 s and 4 s.
      const run = { stop: 'wear', every: '20 s', lasts: '1 s' } as const
      const clock = { stop: 'clock', counts: 'calendar time', every: '50 s', lasts: '4 s' } as const
      const { figures } = observe(
        [
          { step: 'in', cycle: '10 s' },
          { buffer: 'b', capacity: 50 },
          { step: 'a', cycle: '2 s', stops: [run, clock] },
        ],
        54000,
        drive,
      )
      const [, { stops, states }] = figures.steps
      expect(stops[0].perDay / 864).toBeCloseTo(1, 1)
      expect(stops[1].perDay / 1600).toBeCloseTo(1, 2)
      expect(states[PRODUCTIVE] + states[STARVED] + states[BLOCKED] + states[UNSCHEDULED_DOWN]).toBeCloseTo(
        1,
        12,
      )
    })

    test.each([
      // Down from 15 to 20 s, five seconds into the second wafer.
      ['resume', [10, 25, 35]],
      ['restart', [10, 30, 40]],
      ['lose', [10, 30, 40]],
    ] as const)('a stop with the fate %s', (inside, expected) => {
      const stop = {
        stop: 'fault',
        counts: 'calendar time',
        every: { replayed: ['15 s', '9000 s'] },
        lasts: '5 s',
        inside,
      } as const
      const { exits, rows } = observe([{ step: 'a', cycle: '10 s', stops: [stop] }], 100, drive)
      expect(exits.slice(0, 3)).toEqual(expected)
      expect(rows.audit.lost).toBe(inside === 'lose' ? 1 : 0)
    })
  })

  test('rework goes back at most k times, then is rejected', () => {
    // Every wafer is sent back twice and rejected the third time.
    const { rows, figures } = observe(
      [{ step: 'a', cycle: '10 s', rework: { share: '99.9999 %', to: 'a', atMost: 2 } }],
      30000,
      drive,
    )
    expect(rows.audit.good).toBe(0)
    expect(rows.audit.rejected).toBe(999)
    expect(figures.steps[0].reworked).toBeCloseTo(2 / 3, 3)
  })

  test('breakage with clearing takes the tool down', () => {
    // Every wafer breaks after 10 s and clearing takes 5 s.
    const { rows, figures } = observe(
      [{ step: 'a', cycle: '10 s', breakage: { share: '99.9999 %', clearing: { lasts: '5 s' } } }],
      1500,
      drive,
    )
    expect(rows.audit.broken).toBe(100)
    expect(figures.steps[0].states[UNSCHEDULED_DOWN]).toBeCloseTo(1 / 3, 2)
  })

  test('a feed with a rate brings as many wafers in carriers as one by one', () => {
    const { figures } = observe(
      [
        { buffer: 'rack', capacity: 200 },
        { step: 'a', cycle: '1 s' },
      ],
      36000,
      drive,
      {
        feed: { rate: '1800 wafers/h', carrier: 100 },
      },
    )
    expect(figures.startedPerHour).toBeCloseTo(1800, -2)
  })

  test('a feed that turns away loses what finds no place', () => {
    // Carriers of 5 every 10 s; two places before a tool of 3 s: the tool takes one, two wait, two are lost.
    const { figures, exits } = observe(
      [
        { buffer: 'rack', capacity: 2 },
        { step: 'a', cycle: '3 s' },
      ],
      1000,
      drive,
      {
        feed: { every: '10 s', carrier: 5, whenFull: 'turn away' },
      },
    )
    expect(exits.slice(0, 4)).toEqual([13, 16, 19, 23])
    expect(figures.turnedAwayPerHour).toBeCloseTo(2 * 360, -2)
  })
})
