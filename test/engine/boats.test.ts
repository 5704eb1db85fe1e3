import { describe, expect, test } from 'vitest'
import type { Batch, Boats, Route, Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Boats of furnaces and the order of their loaders: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const furnace = (cycle: '1 s' | '10 s', batch: Batch, stops: readonly Stop[] = []): Route => [
  { step: 'in', cycle },
  { buffer: 'store', capacity: 40 },
  { step: 'furnace', batch, stops },
]

/** Loads of two, 10 s, the first wafers there at 1 and 2 s, tubes enough. */
const withBoats = (boats: Boats, more: Partial<Batch> = {}) =>
  furnace('1 s', { load: 2, time: '10 s', tubes: 3, boats, ...more })

describe.each(DRIVES)('%s drive', drive => {
  test('fewer boats than tubes: a load waits until one is cool', () => {
    // In 2 to 3 s, 3 to 13 s, out 13 to 14 s; cool at 18 s; in 18 to 19 s, ... out at 30 s: every 16 s.
    const route = withBoats({ perTool: 1, cooling: '4 s' }, { loading: '1 s', unloading: '1 s' })
    expect(observe(route, 100, drive).exits.slice(0, 6)).toEqual([14, 14, 30, 30, 46, 46])
  })

  test('two boats are twice as many loads', () => {
    // The second load, of 4 s, is brought in 4 to 5 s and out 15 to 16 s: boat cool at 20 s, in 20 to 21 s, out 31 to 32 s.
    const route = withBoats({ perTool: 2, cooling: '4 s' }, { loading: '1 s', unloading: '1 s' })
    expect(observe(route, 100, drive).exits.slice(0, 8)).toEqual([14, 14, 16, 16, 30, 30, 32, 32])
  })

  test('cleaning after each run, then once through a tube without wafers', () => {
    // 2 to 12 s; away until 32 s; coated until 37 s; 37 to 47 s; 47 + 20 + 5 + 10 = 82 s.
    const cleaning = { every: 1, lasts: '20 s', coating: '5 s' } as const
    expect(observe(withBoats({ perTool: 1, cleaning }), 100, drive).exits).toEqual([12, 12, 47, 47, 82, 82])
  })

  test('the coating takes the only tube', () => {
    // Two boats, one tube. Boat 1: 2 to 12 s, cleaned 12 to 32 s. Boat 2: 12 to 22 s, cleaned 22 to 42 s. Boat 1 is coated 32 to 37 s and
    // works 37 to 47 s; boat 2 waits for the tube from 42 s on, is coated 47 to 52 s, works 52 to 62 s.
    const cleaning = { every: 1, lasts: '20 s', coating: '5 s' } as const
    const route = withBoats({ perTool: 2, cleaning }, { tubes: 1 })
    expect(observe(route, 65, drive).exits).toEqual([12, 12, 22, 22, 47, 47, 62, 62])
  })

  test('a broken boat is replaced', () => {
    // 2 to 12 s; another at 32 s, 32 to 42 s.
    const breakage = { share: '99.9999 %', replacedAfter: '20 s' } as const
    expect(observe(withBoats({ perTool: 1, breakage }), 60, drive).exits).toEqual([12, 12, 42, 42])
  })

  test.each([
    // Loads of one every 10 s, done 5 s later. Always tube 1: its stop after two loads holds the third, until 130 s. Tube 2 does those of 40
    // and 50 s, and is held with that of 60 s; tube 3 those of 70 and 80 s.
    ['lowest number', [15, 25, 45, 55, 75, 85, 135]],
    // Tubes 1, 2, 3 and again: the seventh load, of 70 s, is held in tube 1, the eighth in 2, the ninth in 3, until 170 s.
    ['in turn', [15, 25, 35, 45, 55, 65, 175]],
  ] as const)('the loader serves the tubes: %s', (loaderServes, expected) => {
    const stop = { stop: 's', counts: 'loads', every: 2, lasts: '100 s' } as const
    const batch = { load: 1, time: '5 s', tubes: 3, loaderServes } as const
    expect(observe(furnace('10 s', batch, [stop]), 400, drive).exits.slice(0, 7)).toEqual(expected)
  })
})
