import { describe, expect, test } from 'vitest'
import type { Line, Route, Step, Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/**
 * Wear that a stop makes good: mean efficiency of the good cells, by hand. Wafer k after the stop (from 0 on) loses k/n of `loses`,
 * n being the wafers that the tool does from one stop to the next when it always works; from wafer n on, all of it.
 */
const DRIVES = ['strict', 'eager'] as const
const DAY = 86_400

describe.each(DRIVES)('%s drive: drift', drive => {
  const run = (press: Partial<Step>, stop: Omit<Stop, 'stop'>, test: Partial<Step> = {}, days = 1) => {
    const step = {
      step: 'press',
      ...(press.cycles || press.belt || press.batch ? {} : { cycle: '1 s' }),
      ...press,
      stops: [{ stop: 'service', ...stop }],
      drift: { until: 'service', loses: '1 %', ...press.drift },
    } as Step
    const more: Partial<Line> = { wafer: { area: '330 cm2', efficiency: { mean: '23 %' } } }
    const back = { step: 'look', cycle: '0.2 s', ...test } as Step
    const queue: Route = [
      { step: 'load', cycle: '0.1 s' },
      { buffer: 'queue', capacity: 20 },
    ]
    const route = [...(press.batch ? queue : []), step, { buffer: 'between', capacity: 400 }, back]
    return observe(route, days * DAY, drive, more).figures
  }
  const percent = (efficiency: number | undefined) => 100 * (efficiency ?? 0)

  test('grows evenly up to the stop', () => {
    // 0 to 99 hundredths: 0.495 % on average.
    const { efficiency } = run({}, { counts: 'wafers', every: 100, lasts: '60 s' })
    expect(percent(efficiency)).toBeCloseTo(23 - 0.495, 2)
  })

  test('goes no further if the stop comes later', () => {
    // Put off for 1000 s: after 100 wafers another 1000, the press being never starved. (100 x 0.495 + 1000 x 1) / 1100.
    const waits = { until: 'starved', atMost: '1000 s' } as const
    const { efficiency } = run({}, { counts: 'wafers', every: 100, lasts: '60 s', waits })
    expect(percent(efficiency)).toBeCloseTo(23 - (100 * 0.495 + 1000) / 1100, 2)
  })

  test('with hidden defects goes no further either', () => {
    // At most 5 % have one, most wafers that many: (100 x 2.475 + 1000 x 5) / 1100 = 4.77 %.
    const waits = { until: 'starved', atMost: '1000 s' } as const
    const drift = { until: 'service', defects: '5 %' } as const
    const { yield: share } = run(
      { drift },
      { counts: 'wafers', every: 100, lasts: '60 s', waits },
      { test: {} },
    )
    expect(share).toBeGreaterThan(0.945)
    expect(share).toBeLessThan(0.96)
  })

  test.each([[['4 s', '1 s']], [['1 s', '4 s']]] as const)(
    'counts for each tool by its own cycle (%s)',
    cycles => {
      // In an hour of work the one does 900 wafers, the other 3600, each from nothing to 1 %: half of that on average.
      const { efficiency } = run({ tools: 2, cycles }, { every: '1 h', lasts: '10 min' })
      expect(percent(efficiency)).toBeCloseTo(22.5, 1)
    },
  )

  test('grows with the wafers that are lost too: set-up wafers', () => {
    // Of 100 wafers the first 50 are lost, so good ones are those from 50 to 99: 74.5 hundredths on average.
    const { efficiency } = run({}, { counts: 'wafers', every: 100, lasts: '60 s', setUpWafers: 50 })
    expect(percent(efficiency)).toBeCloseTo(23 - 0.745, 2)
  })

  const wafers: Omit<Stop, 'stop'> = { counts: 'wafers', every: 100, lasts: '60 s' }
  const loads: Omit<Stop, 'stop'> = { counts: 'loads', every: 10, lasts: '60 s' }
  const belt = { spacing: '1 s', transit: '10 s' } as const
  const batch = { load: 10, time: '10 s' } as const

  // Good ones lie anywhere among the 100.
  test.each([
    ['rejects', { reject: '50 %' }, wafers, 0.495],
    ['broken ones', { breakage: '50 %' }, wafers, 0.495],
    ['those done again', { rework: { share: '50 %', to: 'press', atMost: 1 } }, wafers, 0.495],
    // Ten are on the belt when the stop strikes, and run out before it is over: (100 x 0.495 + 10 x 1) / 110.
    ['rejects of a belt', { belt, reject: '50 %' }, wafers, 0.541],
    // Of a load those that are lost count before the others: on average 2.5 wafers more.
    ['rejects of a tube', { batch, reject: '50 %' }, loads, 0.495 + 0.025],
  ] as [string, Partial<Step>, Omit<Stop, 'stop'>, number][])('grows with %s', (_, press, stop, loss) => {
    const { efficiency } = run(press, stop)
    expect(Math.abs(percent(efficiency) - (23 - loss))).toBeLessThan(0.012)
  })
})
