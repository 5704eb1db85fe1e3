import { describe, expect, test } from 'vitest'
import { NON_SCHEDULED, UNSCHEDULED_DOWN, WAITING_FOR_CREW } from '../../sim/engine/meter.ts'
import type { Line, SiteEvent, Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** What falls due, or is going on, while the line is closed. Counts by hand; both drives must give them. */
const DRIVES = ['strict', 'eager'] as const
const DAY = 86_400

/** Open from 6:00 to 18:00: 12 h a day. */
const DAYTIME: Partial<Line> = { calendar: { shifts: { day: { from: '06:00', to: '18:00' } } } }

describe.each(DRIVES)('%s drive: an event while the line is closed', drive => {
  const run = (event: Omit<SiteEvent, 'event'>, days: number) =>
    observe([{ step: 'press', cycle: '36 s' }], days * DAY, drive, {
      ...DAYTIME,
      events: [{ event: 'power', ...event } as SiteEvent],
    })

  test.each(['unscheduled', 'scheduled'] as const)('%s, it takes from the open hours what is left', kind => {
    // 0:00 to 8:00, from the second day on: 12 h of 100 wafers, then 10 h each.
    const { exits, figures } = run({ every: '24 h', lasts: '8 h', kind }, 4)
    expect(Math.abs(exits.length - (1200 + 3 * 1000))).toBeLessThanOrEqual(4)
    expect(figures.steps[0].stops[0].perDay).toBeCloseTo(3 / 4, 9)
  })

  test('over before the line opens, it has stopped nothing', () => {
    const { figures } = run({ every: '24 h', lasts: '1 h', kind: 'scheduled' }, 4)
    expect(figures.steps[0].stops[0].perDay).toBe(0)
  })
})

describe.each(DRIVES)('%s drive: down over the end of the open hours', drive => {
  test('a tool is non-scheduled while the line is closed, and the stop takes nothing of that', () => {
    // Open 0:00 to 0:10 and from 0:20 on; down 0:09 to 0:23, so 4 min of open time; a fitter is there from 0:21 on.
    const stop: Stop = {
      ...{ stop: 'jam', counts: 'calendar time', every: '9 h', first: '9 min', lasts: '2 min' },
      skill: 'fitter',
    }
    const shifts = {
      first: { from: '00:00', to: '00:10' },
      second: { from: '00:20', to: '00:21' },
      third: { from: '00:21', to: '00:00' },
    } as const
    const route = [{ step: 'press', cycle: '30 s', stops: [stop] }] as const
    const line = { calendar: { shifts }, crews: { fitter: { heads: { third: 1 } } } } as const
    const { figures } = observe(route, 1800, drive, line)
    const [press] = figures.steps
    expect(press.states[NON_SCHEDULED]).toBeCloseTo(10 / 30, 8)
    expect(press.states[WAITING_FOR_CREW]).toBeCloseTo(2 / 30, 9)
    expect(press.states[UNSCHEDULED_DOWN]).toBeCloseTo(2 / 30, 9)
    expect(press.stops[0].hoursPerDay * 30).toBeCloseTo(4 * 24, 9)
    expect(press.stops[0].waitHoursPerDay * 30).toBeCloseTo(2 * 24, 9)
  })
})

describe.each(DRIVES)('%s drive: planned work while the line is closed', drive => {
  const run = (stops: readonly Omit<Stop, 'stop'>[], days: number) =>
    observe(
      [
        {
          step: 'press',
          cycle: '36 s',
          stops: stops.map((stop, s) => ({ stop: `work ${s + 1}`, kind: 'scheduled', ...stop }) as Stop),
        },
      ],
      days * DAY,
      drive,
      DAYTIME,
    )

  test('goes on from the end of the work, not from when the line opens', () => {
    // Due 20 h after the end of the last, 2 h long: 12 times in 11 days, at each even hour of the day once, of which the open
    // hours lose 6 x 2 h of 132 h. That at 22:00 on the last day is counted when the line opens, after the run.
    const { exits, figures } = run([{ counts: 'calendar time', every: '20 h', lasts: '2 h' }], 11)
    expect(Math.abs(exits.length - 12_000)).toBeLessThanOrEqual(12)
    expect(figures.steps[0].stops[0].perDay).toBeCloseTo(11 / 11, 9)
  })

  test('comes as often as it is due', () => {
    const stops = [{ at: ['20:00', '23:00'], lasts: '1 h' }] as const
    const { exits, figures } = run(stops, 4)
    // Of three whole nights: the last is counted when the line opens, after the run.
    expect(figures.steps[0].stops[0].perDay).toBe(6 / 4)
    expect(Math.abs(exits.length - 4 * 1200)).toBeLessThanOrEqual(4)
  })

  test('is not put off, since nothing is there to wait for', () => {
    const waits = { until: 'starved', atMost: '2 h' } as const
    const { exits } = run([{ at: ['20:00'], lasts: '1 h', waits }], 4)
    expect(Math.abs(exits.length - 4 * 1200)).toBeLessThanOrEqual(4)
  })
})
