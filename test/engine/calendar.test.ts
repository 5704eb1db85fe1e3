import { describe, expect, test } from 'vitest'
import type { Time } from '../../sim/base/units.ts'
import { NON_SCHEDULED } from '../../sim/engine/meter.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import type { Line, Route, Stop } from '../../sim/line/types.ts'
import { rowsOf } from '../../sim/measure/rows.ts'
import { compile } from '../../sim/plan/compile.ts'
import { observe } from './observe.ts'

/** Closing hours, stops by the clock, site events, warming up: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** What joins and splits take (a microsecond each) is not asked here. */
const near = (times: readonly number[], count: number) =>
  times.slice(0, count).map(t => Math.round(t * 1e4) / 1e4)

const DAY = 86_400

describe.each(DRIVES)('%s drive', drive => {
  describe('closing hours', () => {
    const twoTools: Route = [
      { step: 'a', cycle: '70 s' },
      { buffer: 'b', capacity: 10 },
      { step: 'c', cycle: '70 s' },
    ]
    const open = (runDown?: Time): Partial<Line> => ({
      calendar: { shifts: { day: { from: '00:00', to: '01:00' } }, ...(runDown ? { runDown } : {}) },
    })

    test('each tool ends what it has in work', () => {
      // c takes wafers at 70, 140, ... 3570 s: 51, the last done at 3640 s. a leaves one in the buffer at 3640 s. On the next day
      // c takes at once, at 0, 70, ... 3570 s: 52.
      const { exits } = observe(twoTools, 2 * DAY, drive, open())
      expect(exits.filter(time => time < DAY)).toHaveLength(51)
      expect(exits[50]).toBe(3640)
      expect(exits[51]).toBe(DAY + 70)
      expect(exits).toHaveLength(51 + 52)
    })

    test('a line that runs down is empty when it closes', () => {
      // No wafer enters after 3600 - 615 = 2985 s: 0, 70, ... 2940 s, 43 a day, the last out at 3080 s.
      const { exits, rows } = observe(twoTools, 2 * DAY, drive, open('615 s'))
      expect(exits).toHaveLength(86)
      expect(exits[42]).toBe(3080)
      expect(rows.audit.inside).toBe(0)
    })

    test('the closed hours are non-scheduled time', () => {
      // Open 1 h of 24; the last wafers of the day are done 40 s after that.
      const { figures } = observe(twoTools, 2 * DAY, drive, open())
      expect(figures.steps[0].states[NON_SCHEDULED]).toBeCloseTo(23 / 24, 2)
      expect(figures.steps[0].states[NON_SCHEDULED]).toBeCloseTo((DAY - 3640) / DAY, 9)
    })
  })

  describe('warming up', () => {
    const warmUp = { after: '60 s', lasts: '30 s' } as const

    test.each([
      // Struck at 15 s, 5 s into the second wafer. 50 s are not longer than 60 s.
      ['50 s', [10, 70]],
      // Down until 85 s, warm at 115 s.
      ['70 s', [10, 120]],
    ] as const)('after a stop of %s', (lasts, expected) => {
      const stop = { stop: 's', counts: 'calendar time', every: '9 h', first: '15 s', lasts } as const
      const { exits } = observe([{ step: 'a', cycle: '10 s', warmUp, stops: [stop] }], 200, drive)
      expect(exits.slice(0, 2)).toEqual(expected)
    })

    test('once, after what else has waited', () => {
      // Closed 600 to 1200 s. Due at 1100 s, until 1240 s with the people; then it warms up, once, until 1270 s.
      const shifts = { early: { from: '00:00', to: '00:10' }, late: { from: '00:20', to: '01:00' } } as const
      const stop = {
        stop: 's',
        counts: 'calendar time',
        every: '9 h',
        first: '1100 s',
        lasts: '40 s',
        skill: 'fitter',
      } as const
      const { exits } = observe([{ step: 'a', cycle: '70 s', warmUp, stops: [stop] }], 1500, drive, {
        calendar: { shifts },
        crews: { fitter: { heads: 1 } },
      })
      expect(exits.slice(8, 10)).toEqual([630, 1340])
    })

    test('not again after a short stop that has waited for it', () => {
      // Down 15 to 85 s, warm at 115 s; the second stop, due at 100 s, until 125 s: the wafer goes on then.
      const every = { counts: 'calendar time', every: '9 h' } as const
      const stops = [
        { stop: 's', ...every, first: '15 s', lasts: '70 s' },
        { stop: 't', ...every, first: '100 s', lasts: '10 s' },
      ] as const
      const { exits } = observe([{ step: 'a', cycle: '10 s', warmUp, stops }], 200, drive)
      expect(exits.slice(0, 2)).toEqual([10, 130])
    })

    test('after closed hours', () => {
      // Open until 600 s: the wafer taken at 560 s is done at 630 s. Open again at 1200 s, warm at 1230 s.
      const shifts = { early: { from: '00:00', to: '00:10' }, late: { from: '00:20', to: '01:00' } } as const
      const { exits } = observe([{ step: 'a', cycle: '70 s', warmUp }], 1500, drive, { calendar: { shifts } })
      expect(exits.slice(8, 10)).toEqual([630, 1300])
    })
  })

  describe('events', () => {
    const lanes: Route = [
      {
        group: 'lanes',
        lanes: { A: [{ step: 'A', cycle: '10 s' }], B: [{ step: 'B', cycle: '20 s' }] },
      },
    ]
    const event = (steps?: readonly string[]) => ({
      ...{ event: 'power dip', every: { replayed: ['15 s', '9 h'] }, lasts: '5 s' },
      ...(steps ? { steps } : {}),
    })

    test.each([
      // Both 15 to 20 s: A 10, 25, 35 s; B 25 s.
      [undefined, [10, 25, 25, 35]],
      // A only: B 20 s.
      [['A'], [10, 20, 25, 35]],
    ] as const)('strike the tools of all steps, or of %s, at the same time', (steps, expected) => {
      const { exits } = observe(lanes, 60, drive, {
        events: [event(steps) as NonNullable<Line['events']>[number]],
      })
      expect(near(exits, 4)).toEqual(expected)
    })

    test('strike a tool that is down for the rest', () => {
      // Down 12 to 18 s, then until 20 s: the second wafer, 2 s of it done, needs 8 s more.
      const stop = { stop: 's', counts: 'calendar time', every: '9 h', first: '12 s', lasts: '6 s' } as const
      const events = [event() as NonNullable<Line['events']>[number]]
      const { exits } = observe([{ step: 'a', cycle: '10 s', stops: [stop] }], 60, drive, { events })
      expect(exits.slice(0, 2)).toEqual([10, 28])
    })
  })

  describe('stops by the clock', () => {
    const tool = (stop: Partial<Stop>, tools: number, cycle: Time): Route => [
      { step: 'a', tools, cycle, stops: [{ stop: 's', counts: 'calendar time', lasts: '1 min', ...stop }] },
    ]

    test('at six o’clock every day', () => {
      // 21 600 s: 600 s into the 22nd wafer; the next day again.
      const { exits, figures } = observe(tool({ at: ['06:00'] }, 1, '1000 s'), 2 * DAY, drive)
      expect(exits.slice(20, 22)).toEqual([21_000, 22_060])
      expect(figures.steps[0].stops[0].perDay).toBeCloseTo(1, 9)
    })

    test('on one day of the week', () => {
      const { figures } = observe(tool({ at: ['Tue 06:00'] }, 1, '1000 s'), 10 * DAY, drive)
      // Ten days from a Monday have two Tuesdays.
      expect(figures.steps[0].stops[0].perDay).toBeCloseTo(2 / 10, 9)
    })

    test('staggered from tool to tool', () => {
      // Tool 1 down 10 to 14 s: 29, 54, 79 s. Tool 2 30 to 34 s: 25, 54, 79 s. Tool 3 60 to 64 s: 25, 50, 79 s.
      const first = ['10 s', '30 s', '60 s'] as const
      const { exits } = observe(tool({ every: '24 h', first, lasts: '4 s' }, 3, '25 s'), 100, drive)
      expect(exits.slice(0, 9)).toEqual([25, 25, 29, 50, 54, 54, 79, 79, 79])
    })

    test('spread over a span', () => {
      // 12, 32 and 52 s: as above.
      const first = { from: '12 s', to: '72 s' } as const
      const stop = { every: '24 h', first, lasts: '4 s' } as const
      const { exits } = observe(tool(stop, 3, '25 s'), 100, drive)
      expect(exits.slice(0, 9)).toEqual([25, 25, 29, 50, 54, 54, 79, 79, 79])
      // Of one tool in each of two lanes: 12 s and 42 s.
      const lanes: Route = [{ group: 'lanes', lanes: ['A', 'B'], each: tool(stop, 1, '25 s') }]
      const ofLanes = observe(lanes, 100, drive).exits
      expect(near(ofLanes, 6)).toEqual([25, 29, 54, 54, 79, 79])
    })

    test('from the start of the run', () => {
      const first = { from: '0 s', to: '20 s' } as const
      // Tool 1 down 0 to 4 s; tool 2 10 to 14 s.
      const { exits } = observe(tool({ every: '24 h', first, lasts: '4 s' }, 2, '25 s'), 60, drive)
      expect(exits.slice(0, 4)).toEqual([29, 29, 54, 54])
    })
  })
})

describe('planned work that falls due while the line is closed', () => {
  const hours = (at: string, lasts: string, more: object = {}) => ({
    line: 'closed at night',
    calendar: { shifts: { early: { from: '06:00', to: '14:00' }, late: { from: '14:00', to: '22:00' } } },
    crews: { fitters: { heads: 1, skills: ['repair'] } },
    route: [
      {
        step: 'press',
        cycle: '10 s',
        stops: [{ stop: 'service', at: [at], lasts, kind: 'scheduled', ...more }],
      },
    ],
  })
  // By hand, in 4 days of 16 open hours: 360 wafers in each hour in which the press is up.
  test.each([
    ['02:00', '2 h', {}, 16],
    ['22:00', '2 h', {}, 16],
    ['02:00', '6 h', {}, 14],
    ['21:00', '2 h', {}, 15],
    // Who does it comes when the line opens.
    ['02:00', '2 h', { skill: 'repair' }, 14],
    // A failure is mended when the line opens.
    ['02:00', '2 h', { kind: 'unscheduled' }, 14],
  ])('at %s for %s %j leaves %i hours a day', (at, lasts, more, open) => {
    const plan = compile(hours(at, lasts, more) as unknown as Line)
    const good = (['strict', 'eager'] as const).map(drive => {
      const run = runToEnd(new Run(plan, 4 * 24 * 3600e6, { seed: 'closed', replication: 0 }, drive))
      return rowsOf(plan, run).line.good.at(-1) ?? 0
    })
    expect(good[1]).toBe(good[0])
    expect(Math.abs(good[0] - 4 * open * 360)).toBeLessThanOrEqual(8)
  })
})
