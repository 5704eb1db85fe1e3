import { describe, expect, test } from 'vitest'
import type { Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Stops that are done along with others: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const alone = ({ renews: _none, ...stop }: Stop): Stop => stop

const service = (more: Partial<Stop> = {}): Stop => ({
  ...{ stop: 'service', every: '20 s', lasts: '3 s', kind: 'scheduled', renews: ['failure'] },
  ...more,
})
const failure = (more: Partial<Stop> = {}): Stop => ({
  ...{ stop: 'failure', every: '25 s', lasts: '7 s' },
  ...more,
})

describe.each(DRIVES)('%s drive', drive => {
  /** Exits of a tool of 10 s that always has wafers, and how often each stop has come. */
  function made(stops: readonly Stop[], seconds: number) {
    const { exits, figures } = observe([{ step: 'a', cycle: '10 s', stops }], seconds, drive)
    const counts = figures.steps[0].stops.map(({ perDay }) => Math.round((perDay * seconds) / 86_400))
    return { exits, counts }
  }

  test('a failure that is renewed before it is due never comes', () => {
    // Two wafers, 3 s of service, for ever.
    const { exits, counts } = made([failure(), service()], 115)
    expect(exits).toEqual([10, 20, 33, 43, 56, 66, 79, 89, 102, 112])
    // The fifth service begins at 112 s.
    expect(counts).toEqual([0, 5])
  })

  test('one that nothing renews comes in its time', () => {
    // 25 s of work are over at 28 s, 5 s into the third wafer, which goes on at 35 s.
    const { exits } = made([failure(), alone(service())], 60)
    expect(exits.slice(0, 4)).toEqual([10, 20, 40, 50])
  })

  test('of two that are due at once the first named comes first, and may be spared the other', () => {
    const due = { every: '20 s' } as const
    expect(made([failure(due), service()], 60).exits.slice(0, 3)).toEqual([10, 20, 40])
    expect(made([service(), failure(due)], 60).exits.slice(0, 3)).toEqual([10, 20, 33])
  })

  test('so it is of one that counts wafers and one that counts work', () => {
    const wafers = { counts: 'wafers', every: 2 } as const
    expect(made([service(), failure(wafers)], 60).exits).toEqual([10, 20, 33, 43, 56])
    expect(made([service(wafers), failure({ every: '20 s' })], 60).exits).toEqual([10, 20, 33, 43, 56])
    expect(made([failure(wafers), service()], 60).exits.slice(0, 3)).toEqual([10, 20, 40])
    expect(made([failure({ every: '20 s' }), service(wafers)], 60).exits.slice(0, 3)).toEqual([10, 20, 40])
  })

  test('of those that fell due while the line was closed the one due first comes first', () => {
    // Service is due at 01:00 and done at night; the failure would have been due at 03:00.
    const night = { counts: 'calendar time', every: '900 h' } as const
    const stops = [
      failure({ ...night, first: '27 h', lasts: '4 h' }),
      service({ ...night, first: '25 h', lasts: '1 h' }),
    ]
    const calendar = { shifts: { day: { from: '06:00', to: '18:00' } } } as const
    for (const order of [stops, [...stops].reverse()]) {
      const { exits } = observe([{ step: 'a', cycle: '10 s', stops: order }], 48 * 3600, drive, { calendar })
      expect(exits).toHaveLength(2 * 4320)
    }
  })

  test('after idleness the time counts anew, though the wafer that waited is lost', () => {
    const { exits } = observe(
      [
        { buffer: 'b', capacity: 9 },
        {
          ...{ step: 'a', cycle: '5 s' },
          stops: [
            { stop: 'warm', afterIdle: '12 s', lasts: '10 s' },
            {
              stop: 'jam',
              counts: 'calendar time',
              every: '9 h',
              first: '42 s',
              lasts: '3 s',
              inside: 'lose',
            },
          ],
        },
      ],
      100,
      drive,
      { feed: { every: '40 s', carrier: 4 } },
    )
    // Warm from 40 to 50 s, down until 53 s with the wafer lost; the next is done at 58 s.
    expect(exits[0]).toBe(58)
  })

  test('each renews the other: the one that comes first, for ever', () => {
    const { exits, counts } = made([failure({ every: '15 s', renews: ['service'] }), service()], 110)
    // 15 s of work, 7 s of repair, by turns within a wafer and after one.
    expect(exits).toEqual([10, 27, 37, 54, 71, 81, 98])
    expect(counts).toEqual([5, 0])
  })

  test('what is renewed renews nothing else', () => {
    const chain: Stop[] = [
      { stop: 'small', every: '10 s', lasts: '1 s', renews: ['middle'] },
      { stop: 'middle', every: '990 s', lasts: '1 s', renews: ['large'] },
      { stop: 'large', every: '25 s', lasts: '7 s' },
    ]
    expect(made(chain, 80).counts[2]).toBe(2)
  })

  test('by wafers', () => {
    const { exits, counts } = made(
      [failure({ counts: 'wafers', every: 3 }), service({ counts: 'wafers', every: 2 })],
      60,
    )
    expect(exits).toEqual([10, 20, 33, 43, 56])
    expect(counts).toEqual([0, 2])
  })

  test('one that waits for a good moment is done along', () => {
    const waiting = failure({
      ...{ counts: 'calendar time', every: '9 h', first: '12 s' },
      waits: { until: 'starved', atMost: '40 s' },
    })
    const planned = { counts: 'calendar time', every: '9 h', first: '35 s' } as const
    // The failure would be forced at 52 s. Service from 35 to 38 s.
    expect(made([waiting, service(planned)], 100).exits).toEqual([10, 20, 30, 43, 53, 63, 73, 83, 93])
    expect(made([waiting, alone(service(planned))], 100).exits.slice(4, 6)).toEqual([60, 70])
  })

  test('one that is due with the next wafer is done along while the tool is idle', () => {
    const { exits } = observe(
      [
        { step: 'in', cycle: '40 s' },
        { buffer: 'b', capacity: 9 },
        {
          ...{ step: 'a', cycle: '10 s' },
          stops: [
            failure({ counts: 'wafers', every: 1 }),
            service({ counts: 'calendar time', every: '9 h', first: '60 s' }),
          ],
        },
      ],
      200,
      drive,
    )
    // Wafers come every 40 s. The first ends at 50 s, the failure is due; service at 60 s takes it along; the third wafer finds it.
    expect(exits.slice(0, 3)).toEqual([50, 90, 137])
  })

  test('after idleness', () => {
    const { exits } = observe(
      [
        { step: 'in', cycle: '40 s' },
        { buffer: 'b', capacity: 9 },
        {
          ...{ step: 'a', cycle: '10 s' },
          stops: [
            failure({ every: '15 s' }),
            { stop: 'warm', afterIdle: '20 s', lasts: '2 s', renews: ['failure'] },
          ],
        },
      ],
      300,
      drive,
    )
    // Each wafer finds it idle for 30 s at least; 10 s of work never make 15.
    expect(exits.slice(0, 4)).toEqual([52, 92, 132, 172])
  })

  test('wear until a stop that is done along begins anew', () => {
    const wafer = { area: '330 cm2', efficiency: { mean: '23 %' } } as const
    const bins = { first: '18 %', width: '0.1 %', count: 60 } as const
    const efficiency = (renews: readonly string[] | undefined) => {
      const stops: Stop[] = [
        { stop: 'clean', counts: 'wafers', every: 100, lasts: '1 s' },
        { stop: 'overhaul', counts: 'wafers', every: 50, lasts: '1 s', ...(renews && { renews }) },
      ]
      const step = { step: 'a', cycle: '1 s', stops, drift: { until: 'clean', loses: '1 %' } } as const
      return observe([step, { step: 'test', cycle: '1 s', test: {} }], 10_000, drive, { wafer, bins }).figures
        .efficiency
    }
    // The n-th of 100 wafers loses n - 1 of 10,000: 0.495 % on average; of 50 only 0.245 %.
    expect(efficiency(undefined)).toBeCloseTo(0.22505, 4)
    expect(efficiency(['clean'])).toBeCloseTo(0.22755, 4)
  })
})
