import { describe, expect, test } from 'vitest'
import type { Feed, Line, Route, TimeLimit } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Time limits: lines that a pencil solves; the arithmetic stands beside each. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** What doors of rework take (a microsecond each) is not asked here. */
const near = (times: readonly number[]) => times.map(t => Math.round(t * 1e4) / 1e4)

/** So many wafers, all of them before the line at time 0. */
const atOnce = (wafers: number): Feed => ({ every: { replayed: ['0 s', '1 h'] }, carrier: wafers, wafers })

const wafer = { area: '330 cm2', efficiency: { mean: '20 %' } } as const

const route = (first: '1 s' | '10 s', second: '10 s' | '30 s', late: TimeLimit['late']): Route => [
  { step: 'a', cycle: first },
  { buffer: 'store', capacity: 100 },
  { step: 'b', cycle: second, timeLimits: [{ after: 'a', atMost: '15 s', late }] },
]

describe.each(DRIVES)('%s drive', drive => {
  test('late wafers are scrapped when they would be taken', () => {
    // One a second from 1 s on. Taken: that of 1 s, at 11 s that of 2 s (9 s old). At 21 s those of 3, 4, 5 s are late, that of 6 s is just
    // 15 s old. At 31 s 7 to 15 are late, at 41 s 17 to 25, at 51 s 27 to 35.
    const { exits, rows, figures } = observe(route('1 s', '10 s', 'scrap'), 55, drive)
    expect(near(exits)).toEqual([11, 21, 31, 41, 51])
    expect(rows.audit.lost).toBe(3 + 9 + 9 + 9)
    const [{ late, scrapped, sentBack }] = figures.steps[1].late
    expect((late * 55) / 86_400).toBeCloseTo(30, 9)
    expect([scrapped, sentBack]).toEqual([late, 0])
  })

  test('late wafers lose efficiency', () => {
    // Those taken at 1 and 11 s are in time, those at 21, 31, 41 s are late: out by 55 s are five.
    const { exits, figures } = observe(route('1 s', '10 s', { loses: '2 %' }), 55, drive, { wafer })
    expect(exits).toEqual([11, 21, 31, 41, 51])
    expect(figures.efficiency).toBeCloseTo(0.2 - (0.02 * 3) / 5, 12)
  })

  test('a late wafer goes back and comes again', () => {
    // b works on the first until 40 s; the second, of 20 s, is late then, is done by a again 40 to 50 s, by b 50 to 80 s.
    const back = { to: 'a', atMost: 1 } as const
    const { exits, rows } = observe(route('10 s', '30 s', back), 200, drive, { feed: atOnce(2) })
    expect(near(exits)).toEqual([40, 80])
    expect(rows.audit.lost).toBe(0)
  })

  test.each([
    ['scrap', [40, 70]],
    ['pass', [40, 70, 100]],
  ] as const)('late once more than it may be: %s', (then, expected) => {
    // At 40 s the second wafer is late and goes back, the third (of 30 s) is taken, 40 to 70 s. The second is done by a at 50 s and
    // late again at 70 s.
    const back = { to: 'a', atMost: 1, then } as const
    const more: Partial<Line> = { feed: atOnce(3) }
    const { exits, rows, figures } = observe(route('10 s', '30 s', back), 200, drive, more)
    expect(near(exits)).toEqual(expected)
    expect(rows.audit.lost).toBe(then === 'scrap' ? 1 : 0)
    const [{ late, scrapped, sentBack }] = figures.steps[1].late
    const count = (perDay: number) => Math.round(((perDay * 200) / 86_400) * 1e6) / 1e6
    expect([late, scrapped, sentBack].map(count)).toEqual([2, then === 'scrap' ? 1 : 0, 1])
  })
})
