import { describe, expect, test } from 'vitest'
import { SCHEDULED_DOWN, UNSCHEDULED_DOWN } from '../../sim/engine/meter.ts'
import type { Route, Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Stops that wait for a good moment, and supply stops: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const stop = (first: `${number} s`, waits?: Stop['waits'], more: Partial<Stop> = {}): readonly Stop[] => [
  {
    ...{ stop: 's', counts: 'calendar time', every: '9 h', first, lasts: '5 s', kind: 'scheduled' },
    ...(waits ? { waits } : {}),
    ...more,
  },
]

describe.each(DRIVES)('%s drive', drive => {
  test.each([
    // At once: 12 to 17 s, 2 s of the wafer are left.
    ['at once', undefined, [19, 24]],
    // The wafer of 10 s is done at 14 s, then the tool is starved: 14 to 19 s, and the next wafer comes at 20 s.
    ['until starved', { until: 'starved', atMost: '1 h' }, [14, 24]],
  ] as const)('due at 12 s: %s', (_, waits, expected) => {
    const { exits } = observe(
      [
        { step: 'in', cycle: '10 s' },
        { buffer: 'b', capacity: 9 },
        { step: 'a', cycle: '4 s', stops: stop('12 s', waits) },
      ],
      100,
      drive,
    )
    expect(exits.slice(0, 2)).toEqual(expected)
  })

  test('is forced when it has waited long enough', () => {
    // Never starved. Due at 12 s, forced at 25 s, 5 s into the third wafer.
    const waits = { until: 'starved', atMost: '13 s' } as const
    const { exits } = observe([{ step: 'a', cycle: '10 s', stops: stop('12 s', waits) }], 100, drive)
    expect(exits.slice(0, 4)).toEqual([10, 20, 35, 45])
  })

  test.each([
    // Load of 2 at 2 s. At once: 10 to 15 s, done at 27 s; the next 27 to 47 s.
    ['at once', undefined, [27, 27, 47, 47]],
    // Load done at 22 s, down until 27 s; the next 27 to 47 s.
    ['until the load ends', { until: 'load ends', atMost: '1 h' }, [22, 22, 47, 47]],
  ] as const)('a tube, due at 10 s: %s', (_, waits, expected) => {
    const { exits } = observe(
      [
        { step: 'in', cycle: '1 s' },
        { buffer: 'b', capacity: 40 },
        { step: 'tube', batch: { load: 2, time: '20 s' }, stops: stop('10 s', waits) },
      ],
      100,
      drive,
    )
    expect(exits.slice(0, 4)).toEqual(expected)
  })

  test('until the shift change', () => {
    // 600 to 605 s, 40 s into the ninth wafer.
    const shifts = { first: { from: '00:00', to: '00:10' }, second: { from: '00:10', to: '00:00' } } as const
    const waits = { until: 'shift change', atMost: '1 h' } as const
    const route = [{ step: 'a', cycle: '70 s', stops: stop('12 s', waits) }] as const
    const { exits } = observe(route, 900, drive, { calendar: { shifts } })
    expect(exits.slice(7, 10)).toEqual([560, 635, 705])
  })

  test('wafers done while it waits get a hidden defect', () => {
    // Due at 12 s, forced at 45 s: the wafers done at 20, 30 and 40 s, and that in work at 45 s (done at 55 s, after the stop).
    const waits = { until: 'starved', atMost: '33 s' } as const
    const { rows, exits } = observe(
      [
        { step: 'a', cycle: '10 s', stops: stop('12 s', waits, { overdue: '99.9999 %' }) },
        { step: 'test', cycle: '1 s', test: { noise: '0 %' } },
      ],
      100,
      drive,
      { wafer: { area: '330 cm2', efficiency: { mean: '23 %' } } },
    )
    expect(exits[0]).toBe(11)
    expect([rows.audit.rejected, exits[1]]).toEqual([3, 56])
  })

  test('the wafer with which a stop becomes due is as it should be', () => {
    // Due with every second wafer, at 20 s; forced 12 s later, until 39 s. The wafer done at 30 s is overdue, that of 47 s is not; and so on every 37 s.
    const waits = { until: 'starved', atMost: '12 s' } as const
    const worn = { stop: 's', counts: 'wafers', every: 2, lasts: '7 s', waits, overdue: '99.9999 %' } as const
    const route: Route = [
      { step: 'a', cycle: '10 s', stops: [worn] },
      { step: 'test', cycle: '1 s', test: { noise: '0 %' } },
    ]
    const wafer = { area: '330 cm2', efficiency: { mean: '23 %' } } as const
    const { rows, exits } = observe(route, 110, drive, { wafer })
    expect(exits).toEqual([11, 21, 48, 58, 85, 95])
    expect(rows.audit.rejected).toBe(3)
  })

  test('a change of consumables is scheduled down time', () => {
    // 7 s after every two wafers of 10 s.
    const supply = { stop: 's', counts: 'wafers', every: 2, lasts: '7 s', kind: 'supply' } as const
    const { exits, figures } = observe([{ step: 'a', cycle: '10 s', stops: [supply] }], 2700, drive)
    expect(exits.slice(0, 4)).toEqual([10, 20, 37, 47])
    // The first comes at 20 s, then every 27 s: 100 in 2700 s, the last (at 2693 s) whole.
    expect(figures.steps[0].states[SCHEDULED_DOWN]).toBeCloseTo(7 / 27, 9)
    expect(figures.steps[0].states[UNSCHEDULED_DOWN]).toBe(0)
  })
})
