import { describe, expect, test } from 'vitest'
import { SCHEDULED_DOWN } from '../../sim/engine/meter.ts'
import type { Batch, Line, Route, Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Stops that come after too long without work: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const conditioning = (afterIdle: `${number} s`, lasts: `${number} s`, more: Partial<Stop> = {}): Stop => ({
  stop: `after ${afterIdle}`,
  afterIdle,
  lasts,
  kind: 'scheduled',
  ...more,
})

/** A wafer every so many seconds, the first after one such time. */
const tubes = (cycle: `${number} s`, stops: readonly Stop[], batch: Partial<Batch> = {}): Route => [
  { step: 'in', cycle },
  { buffer: 'store', capacity: 40 },
  { step: 'tube', batch: { load: 1, time: '10 s', ...batch }, stops },
]

/** Wafers that come together every 100 s. */
const together = (carrier: number): Partial<Line> => ({ feed: { every: '100 s', carrier } })

describe.each(DRIVES)('%s drive', drive => {
  test('a tube is conditioned before its next load', () => {
    // The load of 100 s: conditioned until 120 s, done at 130 s. Idle until 200 s: 70 s, again.
    const { exits, figures } = observe(tubes('100 s', [conditioning('60 s', '20 s')]), 1000, drive)
    expect(exits.slice(0, 4)).toEqual([130, 230, 330, 430])
    // Nine loads come in 1000 s.
    expect(figures.steps[1].states[SCHEDULED_DOWN]).toBeCloseTo((9 * 20) / 1000, 12)
  })

  test('a stop that counts wafers comes one wafer later', () => {
    // Two wafers together every 100 s; every second wafer one of 3 s, and after 50 s without work one of 20 s: it goes first.
    const stops = [
      conditioning('50 s', '20 s'),
      { stop: 'jam', counts: 'wafers', every: 2, lasts: '3 s' } as const,
    ]
    const route: Route = [
      { buffer: 'store', capacity: 40 },
      { step: 'tool', cycle: '10 s', stops },
    ]
    // Taken at 100 s: until 120 s, done at 130 and 140 s; at 200 s until 220 s, done at 230 s, the jam until 233 s, done at 243 s.
    expect(observe(route, 280, drive, together(2)).exits).toEqual([130, 140, 230, 243])
  })

  test('exactly the limit is not too long', () => {
    // Idle 100 s, then 130 to 200 s (70 s), 210 to 300 s (90 s), 330 to 400 s (70 s).
    const { exits } = observe(tubes('100 s', [conditioning('70 s', '20 s')]), 500, drive)
    expect(exits).toEqual([130, 210, 330, 410])
  })

  test('a tube that needs it not is loaded first', () => {
    // Loads at 30, 60, 90 s. The first tube is idle for 30 s, then for 20 s each time; the other, which waits longer, for ever.
    const route = tubes('30 s', [conditioning('50 s', '20 s')], { tubes: 2 })
    const { exits, figures } = observe(route, 200, drive)
    expect(exits).toEqual([40, 70, 100, 130, 160, 190])
    expect(figures.steps[1].stops[0].perDay).toBe(0)
  })

  test('one tube is conditioned for each load', () => {
    // Of three tubes that all need it: at 100 s the first, at 200 s the second, at 300 s the third, at 400 s the first.
    const one = observe(tubes('100 s', [conditioning('60 s', '20 s')], { tubes: 3 }), 450, drive)
    expect(one.exits).toEqual([130, 230, 330, 430])
    expect((one.figures.steps[1].stops[0].perDay * 450) / 86_400).toBeCloseTo(4, 9)
    const route = tubes('1 s', [conditioning('60 s', '20 s')], { tubes: 3 }).slice(1)
    expect(observe(route, 150, drive, together(2)).exits).toEqual([130, 130])
  })

  test('a load that waits for one tube may find another', () => {
    // One person, 5 s away, conditions one tube 105 to 125 s, and would be at the next at 130 s; that load is taken at 135 s by the first.
    const route = tubes('1 s', [conditioning('60 s', '20 s', { skill: 'fitter' })], { tubes: 2 }).slice(1)
    const crews = { fitter: { heads: 1, reach: '5 s' } } as const
    expect(observe(route, 190, drive, { ...together(2), crews }).exits).toEqual([135, 145])
  })

  test('a short load is waited for too', () => {
    // Loads of two, one is enough after 5 s: at 105 s and half a tick, conditioned until 125 s, done at 135 s.
    const route = tubes('100 s', [conditioning('60 s', '20 s')], { load: 2, least: 1, longestWait: '5 s' })
    expect(observe(route, 200, drive).exits).toEqual([135.0000005])
  })

  test('the longest of those that are due is done', () => {
    // Wafers at 100 s (idle 100 s: 20 s), 300 s (170 s: 40 s), 400 s (50 s: none), 600 s (190 s: 40 s).
    const stops = [conditioning('60 s', '20 s'), conditioning('150 s', '40 s')]
    const [, ...rest] = tubes('1 s', stops)
    const route: Route = [{ step: 'in', cycle: { replayed: ['100 s', '200 s'] } }, ...rest]
    expect(observe(route, 700, drive).exits).toEqual([130, 350, 410, 650])
  })

  test('a load that a stop takes ends the work', () => {
    // Load of 10 s lost at 20 s, of 90 s that it would have taken; the next at 110 s: 90 s without work, conditioned until 130 s.
    const loss: Stop = {
      stop: 'trip',
      counts: 'calendar time',
      every: '9 h',
      first: '20 s',
      lasts: '5 s',
      inside: 'lose',
    }
    const [, ...rest] = tubes('1 s', [conditioning('60 s', '20 s'), loss], { time: '90 s' })
    const route: Route = [{ step: 'in', cycle: { replayed: ['10 s', '100 s', '900 s'] } }, ...rest]
    expect(observe(route, 300, drive).exits).toEqual([220])
  })

  test('the coating of a boat is work', () => {
    // Load 2 to 12 s; boat away until 32 s, coated until 37 s; the load of 40 s finds the tube idle for 3 s. Without the coating: for 28 s.
    const boats = { perTool: 1, cleaning: { every: 1, lasts: '20 s', coating: '5 s' } } as const
    const route: Route = [
      { step: 'in', cycle: { replayed: ['2 s', '38 s', '900 s'] } },
      { buffer: 'store', capacity: 40 },
      { step: 'tube', batch: { load: 1, time: '10 s', boats }, stops: [conditioning('25 s', '20 s')] },
    ]
    expect(observe(route, 100, drive).exits).toEqual([12, 50])
  })

  test.each([
    ['from a buffer', [{ buffer: 'store', capacity: 9 }]],
    ['handed over', []],
  ] as const)('a single-wafer tool, %s', (_, store) => {
    // The wafer of 100 s is held in the tool until 120 s.
    const print = { step: 'print', cycle: '10 s', stops: [conditioning('60 s', '20 s')] } as const
    expect(observe([{ step: 'in', cycle: '100 s' }, ...store, print], 350, drive).exits).toEqual([
      130, 230, 330,
    ])
  })

  test('a tool that was blocked has been without work', () => {
    // The test takes 100 s. The print is done at 10 s, 20 s and held up until 110 s: 90 s without work, so 95 s down with the third,
    // which is done at 215 s. The fourth, taken then, is done at 225 s and held up until 315 s.
    const route: Route = [
      { step: 'print', cycle: '10 s', stops: [conditioning('60 s', '95 s')] },
      { step: 'test', cycle: '100 s' },
    ]
    expect(observe(route, 530, drive).exits).toEqual([110, 210, 315, 415, 520])
  })

  test('a tool that was closed has been without work', () => {
    // Open until 600 s, the wafer in work is done at 630 s; again from 1200 s on: 570 s, so down until 1230 s.
    const shifts = {
      first: { from: '00:00', to: '00:10' },
      second: { from: '00:20', to: '00:00' },
    } as const
    const route: Route = [{ step: 'a', cycle: '70 s', stops: [conditioning('300 s', '30 s')] }]
    const { exits } = observe(route, 1500, drive, { calendar: { shifts } })
    expect(exits.slice(7)).toEqual([560, 630, 1300, 1370, 1440])
  })

  test('set-up wafers after a wipe', () => {
    // Three wafers at 100 s: down until 120 s, done at 130 s (lost), 140 s and 150 s. At 200 s: 50 s. At 300 s: 70 s since 230 s.
    const print: Route = [
      { buffer: 'store', capacity: 9 },
      { step: 'print', cycle: '10 s', stops: [conditioning('60 s', '20 s', { setUpWafers: 1 })] },
    ]
    const { exits, rows } = observe(print, 360, drive, together(3))
    expect(exits).toEqual([140, 150, 210, 220, 230, 340, 350])
    expect(rows.audit).toMatchObject({ lost: 2, faults: [] })
  })

  test.each([
    ['from a buffer', [{ buffer: 'store', capacity: 9 }]],
    ['handed over', []],
  ] as const)('a belt holds the wafer at its infeed, %s', (_, store) => {
    // Taken at 100 s, on the belt at 120 s, out at 130 s; the slot ends at 122 s, 78 s before the next.
    const furnace = {
      step: 'furnace',
      belt: { spacing: '2 s', transit: '10 s' },
      stops: [conditioning('60 s', '20 s')],
    } as const
    const { exits, rows } = observe([{ step: 'in', cycle: '100 s' }, ...store, furnace], 350, drive)
    expect(exits).toEqual([130, 230, 330])
    expect(rows.audit.faults).toEqual([])
  })

  test('a belt that stands lets it in when it runs again', () => {
    // Wafers at 30, 60, 90 s ... The first is held until 45 s, at the end at 85 s, tested until 115 s. The second is on the belt at 60 s (13 s
    // without work), at the end at 100 s, where it waits until 115 s: the belt stands. The third is held from 90 s on (28 s without work) until
    // 105 s, on the belt at 115 s, at the end at 155 s. The fourth, 120 to 160 s, waits until 185 s; the fifth, held from 150 s on, 185 to 225 s.
    const route: Route = [
      { step: 'in', cycle: '30 s' },
      { buffer: 'store', capacity: 9 },
      {
        step: 'belt',
        belt: { spacing: '2 s', transit: '40 s', whenFull: 'stop' },
        stops: [conditioning('20 s', '15 s')],
      },
      { step: 'test', cycle: '30 s' },
    ]
    expect(observe(route, 260, drive).exits).toEqual([115, 145, 185, 215, 255])
  })
})
