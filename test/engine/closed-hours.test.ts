import { describe, expect, test } from 'vitest'
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
