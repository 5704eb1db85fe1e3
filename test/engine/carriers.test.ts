import { describe, expect, test } from 'vitest'
import { BLOCKED } from '../../sim/engine/meter.ts'
import type { Carriers, Line, Route } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Lines with carriers that a pencil solves; the arithmetic stands beside each. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** The hand-over to a trip takes a microsecond, which is not asked here. */
const near = (times: readonly number[], count: number) =>
  times.slice(0, count).map(t => Math.round(t * 1e4) / 1e4)

const VEHICLE: Partial<Line> = { fleets: { goer: { number: 1 } } }
const PERSON: Partial<Line> = { crews: { goer: { heads: 1 } } }

/** A tool, the carriers, a tool of 1 s. */
const route = (cycle: '1 s' | '10 s', carriers: Omit<Carriers, 'carriers'>): Route => [
  { step: 'in', cycle },
  { carriers: 'cassettes', ...carriers },
  { step: 'out', cycle: '1 s' },
]

describe.each(DRIVES)('%s drive', drive => {
  test('a full carrier goes, its wafers are taken one by one', () => {
    // Wafers at 1 and 2 s: full at 2 s, there at 7 s, done at 8 and 9 s. The next is full at 4 s and there at 9 s.
    const { exits } = observe(route('1 s', { holds: 2, number: 10, moved: { takes: '5 s' } }), 60, drive)
    expect(near(exits, 6)).toEqual([8, 9, 10, 11, 12, 13])
  })

  test('with no empty carrier what stands before is blocked', () => {
    // One carrier: there at 7 s, empty when its second wafer is taken at 8 s, back at 11 s. The third and fourth wafers
    // wait before it (as many as a carrier holds can), the fifth in the tool from 5 s on; two go in at 11 s: there at
    // 16 s, empty at 17 s, back at 20 s.
    const { exits, figures } = observe(
      route('1 s', { holds: 2, number: 1, moved: { takes: '5 s' }, back: '3 s' }),
      1002,
      drive,
    )
    expect(near(exits, 6)).toEqual([8, 9, 17, 18, 26, 27])
    // The tool hands over at 11 s, does two more by 13 s, and is held until 20 s: 7 s of 9.
    expect(figures.steps[0].states[BLOCKED]).toBeCloseTo(7 / 9, 2)
  })

  test('wafers are in carriers for as long as the way takes', () => {
    // One wafer each 10 s, in a carrier of its own, 20 s on the way: two at any time.
    const { figures } = observe(
      route('10 s', { holds: 1, number: 10, moved: { takes: '20 s' } }),
      86_400,
      drive,
    )
    const stays = figures.places.map(place => (place.stayHours ?? 0) * 3600)
    expect(stays.some(stay => Math.abs(stay - 20) < 0.01)).toBe(true)
    expect(stays.some(stay => Math.abs(stay - 10.04) < 0.1 && stay > 10.01)).toBe(false)
  })

  test('a carrier that has waited long enough goes as it is', () => {
    // Wafers at 10, 20, 30 s; gone at 10 + 25 = 35 s, there at 40 s. The wafer of 40 s is the first of the next, which goes at 65 s.
    const { exits } = observe(
      route('10 s', { holds: 5, number: 10, longestWait: '25 s', moved: { takes: '5 s' } }),
      100,
      drive,
    )
    expect(near(exits, 6)).toEqual([41, 42, 43, 71, 72, 73])
  })

  test.each([
    ['a vehicle', VEHICLE],
    ['a person', PERSON],
  ])('%s takes what is ready, is there, and returns', (_, goer) => {
    // The wafer of 1 s goes alone, 1 to 7 s; back at 11 s. Then those of 2 and 3 s, 11 to 17 s, back at 21 s, and so on.
    const moved = { takes: '6 s', by: 'goer', perTrip: 2, returns: '4 s' } as const
    const { exits } = observe(route('1 s', { holds: 1, number: 10, moved }), 100, drive, goer)
    expect(near(exits, 5)).toEqual([8, 18, 19, 28, 29])
  })

  test('a vehicle has to come first', () => {
    // Called at 1 s, there at 4 s, at the far end at 10 s.
    const fleets = { goer: { number: 1, reach: '3 s' } } as const
    const moved = { takes: '6 s', by: 'goer' } as const
    const { exits } = observe(route('1 s', { holds: 1, number: 10, moved }), 100, drive, { fleets })
    expect(near(exits, 1)).toEqual([11])
  })

  test('full ones are limited too, at the far end and on the way there', () => {
    // Two at most: gone at 1 and 2 s, there at 21 and 22 s, empty at once: the next two go at 21 and 22 s.
    const { exits } = observe(
      route('1 s', { holds: 1, number: 10, fullAtMost: 2, moved: { takes: '20 s' } }),
      100,
      drive,
    )
    expect(near(exits, 6)).toEqual([22, 23, 42, 43, 62, 63])
  })

  /** Carriers of one wafer, and how often a day they were cleaned or replaced, as so many in the run. */
  const worn = (cycle: '1 s' | '10 s', carriers: Partial<Carriers>, seconds: number) => {
    const { exits, figures } = observe(
      route(cycle, { holds: 1, number: 1, moved: { takes: '5 s' }, ...carriers }),
      seconds,
      drive,
    )
    const wear = figures.places.find(place => place.wear)?.wear
    const inRun = (perDay = NaN) => Math.round((perDay * seconds) / 8.64) / 1e4
    return { exits, counts: [inRun(wear?.cleanedPerDay), inRun(wear?.replacedPerDay)] }
  }

  test('an empty carrier is away for cleaning', () => {
    // Filled at 1 s, there and empty at 6 s, back and clean at 6 + 3 + 20 = 29 s; then every 28 s: filled after cleaning at 29, 57, 85 s.
    const { exits, counts } = worn('1 s', { back: '3 s', cleaning: { every: 1, lasts: '20 s' } }, 100)
    expect(near(exits, 4)).toEqual([7, 35, 63, 91])
    expect(counts).toEqual([3, 0])
  })

  test('the carrier that is ready first is filled first, not the one that was empty first', () => {
    // Cleaned after two fillings, the second carrier begins with one behind it. Filled at 10 s (1), 20 s (2), 30 s (1): the second is away from
    // 21 to 121 s, the first from 31 to 131 s. Wafers wait: the second carrier is filled at 121 s, and again at 122 s since it is
    // back before the first. That one is filled at 131 s, when the tool has done its next, and at 141 s. Then both are away, the second
    // from 123 to 223 s.
    const cleaning = { every: 2, lasts: '100 s' } as const
    const { exits, counts } = worn('10 s', { number: 2, moved: { takes: '1 s' }, cleaning }, 230)
    expect(near(exits, 9)).toEqual([12, 22, 32, 123, 124, 133, 143, 225, 226])
    expect(counts).toEqual([3, 0])
  })

  test('a broken carrier is replaced', () => {
    // As with cleaning for 20 s, but each time another.
    const breakage = { share: '99.9999 %', replacedAfter: '20 s' } as const
    const { exits, counts } = worn('1 s', { back: '3 s', breakage }, 100)
    expect(near(exits, 4)).toEqual([7, 35, 63, 91])
    expect(counts).toEqual([0, 3])
  })
})
