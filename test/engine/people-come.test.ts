import { describe, expect, test } from 'vitest'
import { SCHEDULED_DOWN, WAITING_FOR_CREW } from '../../sim/engine/meter.ts'
import type { Crew, Line, Route, Stop } from '../../sim/line/types.ts'
import type { Rows } from '../../sim/measure/rows.ts'
import { observe } from './observe.ts'

/** Planned work that calls people and works on until they are there: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const service = (more: Partial<Stop> = {}): Stop => ({
  ...{ stop: 'service', counts: 'calendar time', every: '9 h', first: '12 s', lasts: '5 s' },
  ...{ kind: 'scheduled', skill: 'fitter', waits: { until: 'people come', atMost: '1 h' } },
  ...more,
})

/** No people needed; 22 to 42 s. */
const failure = (more: Partial<Stop> = {}): Stop => ({
  ...{ stop: 'failure', counts: 'calendar time', every: '9 h', first: '22 s', lasts: '20 s' },
  ...more,
})

const tool = (...stops: Stop[]): Route => [{ step: 'a', cycle: '10 s', stops }]
const fitters = (more: Partial<Crew> = {}): Partial<Line> => ({
  crews: { fitter: { heads: 1, reach: '13 s', ...more } },
})

/** Ticks that tools stood until people were there, as the people have it. */
const waited = ({ people }: Rows) => people?.waited.reduce((sum, ticks) => sum + ticks, 0)

describe.each(DRIVES)('%s drive', drive => {
  test('the tool works on until they are there', () => {
    // Called at 12 s, there at 25 s, 5 s into the third wafer, which is done at 35 s. Nobody is waited for.
    const { exits, figures, rows } = observe(tool(service()), 100, drive, fitters())
    expect(exits.slice(0, 4)).toEqual([10, 20, 35, 45])
    expect(waited(rows)).toBe(0)
    expect(figures.steps[0].states[WAITING_FOR_CREW]).toBe(0)
    expect(figures.steps[0].states[SCHEDULED_DOWN]).toBeCloseTo(5 / 100, 12)
  })

  test('it stands when it has worked on for long enough', () => {
    // From 21 s on, 1 s into the third wafer; they are there at 25 s and done at 30 s.
    const waits = { until: 'people come', atMost: '9 s' } as const
    const { exits, figures, rows } = observe(tool(service({ waits })), 100, drive, fitters())
    expect(exits.slice(0, 4)).toEqual([10, 20, 39, 49])
    expect(waited(rows)).toBe(4e6)
    expect(figures.steps[0].states[WAITING_FOR_CREW]).toBeCloseTo(4 / 100, 12)
  })

  test('it stands before anybody goes', () => {
    // The only fitter is at the second tool from 3 to 42 s. Due at 12 s, the first stands from 21 s, is reached at 43 s.
    const waits = { until: 'people come', atMost: '9 s' } as const
    const first = failure({ first: '2 s', lasts: '39 s', skill: 'fitter' })
    const route: Route = [
      { step: 'a', cycle: '10 s', stops: [service({ waits })] },
      { buffer: 'between', capacity: 9 },
      { step: 'b', cycle: '1 s', stops: [first] },
    ]
    const { exits } = observe(route, 100, drive, fitters({ reach: '1 s' }))
    expect(exits.slice(0, 4)).toEqual([43, 44, 58, 68])
  })

  test.each([
    // 25 to 30 s, while it is down for the other: the third wafer, 2 s old, is done at 50 s.
    ['5 s', 50],
    // 25 to 50 s: 8 s more than the failure takes.
    ['25 s', 58],
  ] as const)('they work %s while it is down for something else', (lasts, third) => {
    const { exits, figures } = observe(tool(service({ lasts }), failure()), 100, drive, fitters())
    expect(exits.slice(0, 3)).toEqual([10, 20, third])
    const [stop] = figures.steps[0].stops
    expect(stop.perDay).toBeCloseTo(864, 9)
    expect((stop.hoursPerDay * 100) / 24).toBeCloseTo(third - 50, 9)
  })

  test('what is done along with something else before they go calls them no more', () => {
    // Nobody is there in the first minute. Called at 12 s; the failure, done with at 42 s, has spared it.
    const shifts = { first: { from: '00:00', to: '00:01' }, second: { from: '00:01', to: '00:00' } } as const
    const line = { calendar: { shifts }, ...fitters({ heads: { second: 1 } }) } as const
    const route = tool(service(), failure({ renews: ['service'] }))
    const { exits, figures, rows } = observe(route, 200, drive, line)
    expect(exits.slice(0, 7)).toEqual([10, 20, 50, 60, 70, 80, 90])
    expect(figures.steps[0].stops[0].perDay).toBe(0)
    expect(rows.people?.calls.reduce((sum, calls) => sum + calls, 0)).toBe(0)
  })

  test('who is on the way then comes in vain', () => {
    // Called at 12 s by the first tool, there at 62 s, until 67 s; spared at 42 s. The second calls at 50 s and is reached at 117 s.
    const other = service({ first: '50 s', waits: { until: 'people come', atMost: '1 h' } })
    const route: Route = [
      { step: 'a', cycle: '10 s', stops: [service(), failure({ renews: ['service'] })] },
      { buffer: 'between', capacity: 99 },
      { step: 'b', cycle: '1 s', stops: [other] },
    ]
    const { exits, figures } = observe(route, 200, drive, fitters({ reach: '50 s' }))
    expect(figures.steps[0].stops[0].perDay).toBe(0)
    expect(figures.steps[1].stops[0].perDay).toBeCloseTo(86_400 / 200, 9)
    // The wafer of 120 s waits until 122 s.
    expect(exits.slice(8, 11)).toEqual([111, 123, 131])
  })

  test('wafers done until they are there get a hidden defect', () => {
    // Due at 12 s, there at 45 s: the wafers done at 20, 30 and 40 s; that in work at 45 s is done after the stop.
    const route: Route = [
      { step: 'a', cycle: '10 s', stops: [service({ overdue: '99.9999 %' })] },
      { step: 'test', cycle: '1 s', test: { noise: '0 %' } },
    ]
    const wafer = { area: '330 cm2', efficiency: { mean: '23 %' } } as const
    const { rows } = observe(route, 100, drive, { wafer, ...fitters({ reach: '33 s' }) })
    expect(rows.audit.rejected).toBe(3)
  })

  test('a belt that is starved when a stop counted in wafers is due stops then', () => {
    // Wafers enter at 10 and 20 s and leave at 15 and 25 s; down until 32 s, when the third enters.
    const stop = { stop: 's', counts: 'wafers', every: 2, lasts: '7 s' } as const
    const waits = { until: 'starved', atMost: '1 h' } as const
    const route: Route = [
      { step: 'in', cycle: '10 s' },
      { buffer: 'b', capacity: 9 },
      { step: 'a', belt: { spacing: '1 s', transit: '5 s' }, stops: [{ ...stop, waits }] },
    ]
    const { exits } = observe(route, 60, drive)
    expect(exits.slice(0, 4).map(time => Math.round(time * 1000) / 1000)).toEqual([15, 25, 37, 45])
  })
})
