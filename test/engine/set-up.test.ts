import { describe, expect, test } from 'vitest'
import type { Route, Stop } from '../../sim/line/types.ts'
import { observe } from './observe.ts'

/** Set-up wafers after a stop: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const
const SURE = '99.9999 %'

const print = (stops: readonly Stop[]): Route => [{ step: 'print', cycle: '10 s', stops }]
const change: Stop = {
  stop: 'change',
  counts: 'wafers',
  every: 2,
  lasts: '5 s',
  kind: 'supply',
  setUpWafers: 1,
}
const belt = (stops: readonly Stop[]): Route => [
  { step: 'belt', belt: { spacing: '2 s', transit: '10 s' }, stops },
]
/** At 11 s, 3 s long. Wafers enter at 0, 2, ... 10 s, and from 15 s on, as the slot of the last had a second to go. */
const onBelt: Stop = {
  stop: 'change',
  counts: 'calendar time',
  every: '9 h',
  first: '11 s',
  lasts: '3 s',
  setUpWafers: 2,
}
const jam = (first: '16 s' | '22 s', lose: number): Stop => ({
  stop: 'jam',
  counts: 'calendar time',
  every: '9 h',
  first,
  lasts: '1 s',
  inside: { lose },
})

describe.each(DRIVES)('%s drive', drive => {
  /** Wafers lost by each stop of the last step, in so many seconds. */
  const lostOf = ({ figures }: ReturnType<typeof observe>, seconds: number) =>
    figures.steps[figures.steps.length - 1].stops.map(
      stop => Math.round(stop.lostPerDay * (seconds / 86_400) * 1e6) / 1e6,
    )

  test('the first wafer after the stop is lost, and counts for the next stop', () => {
    // Done at 10, 20 s; down 20 to 25 s; done at 35 s (lost), 45 s; down to 50 s; 60 s (lost), 70 s; down to 75 s; 85 s (lost), 95 s.
    const seen = observe(print([change]), 100, drive)
    expect(seen.exits).toEqual([10, 20, 45, 70, 95])
    expect(lostOf(seen, 100)).toEqual([3])
    expect(seen.rows.audit).toMatchObject({ good: 5, lost: 3, broken: 0, rejected: 0, faults: [] })
    // Nine have been started: the stop due at 95 s comes at the start of the ninth.
    expect(seen.figures.steps[0].setUp).toBeCloseTo(3 / 9, 12)
    expect(seen.figures.steps[0].lost).toBe(0)
    expect(seen.figures.steps[0].yield).toBeCloseTo(5 / 8, 12)
  })

  test('a set-up wafer that breaks is broken, and one of them', () => {
    const breaking: Route = [{ step: 'print', cycle: '10 s', breakage: SURE, stops: [change] }]
    expect(observe(breaking, 100, drive).rows.audit).toMatchObject({ good: 0, lost: 0, broken: 8 })
  })

  test('of two stops that follow each other the one that asks for more counts', () => {
    // Five wafers until 50 s; A until 55 s; B 56 to 57 s, so the sixth is done at 66 s: lost, as those of 76 and 86 s; A after 106 s.
    const a: Stop = { ...change, stop: 'A', every: 5, setUpWafers: 3 }
    const b: Stop = {
      stop: 'B',
      counts: 'calendar time',
      every: '9 h',
      first: '56 s',
      lasts: '1 s',
      setUpWafers: 1,
    }
    const seen = observe(print([a, b]), 110, drive)
    expect(seen.exits).toEqual([10, 20, 30, 40, 50, 96, 106])
    expect(lostOf(seen, 110)).toEqual([3, 0])
  })

  test('on a belt they are those that enter after the stop, not those that it leaves inside', () => {
    // The two of 15 and 17 s, lost at their end; that of 19 s is out at 29 s.
    const seen = observe(belt([onBelt]), 32, drive)
    expect(seen.exits).toEqual([10, 12, 14, 16, 18, 20, 29, 31])
    expect(lostOf(seen, 32)).toEqual([2])
  })

  test('others come in the place of set-up wafers that a jam takes', () => {
    // At 22 s those of 15, 17, 19 and 21 s are inside and lost. The next enter at 24, 26 (lost at 34 and 36 s) and 28 s.
    const seen = observe(belt([onBelt, jam('22 s', 6)]), 39, drive)
    expect(seen.exits).toEqual([10, 12, 14, 16, 18, 20, 38])
    expect(lostOf(seen, 39)).toEqual([2, 4])
  })

  test('a jam may take some of those before them', () => {
    // At 16 s those of 8, 10 and 15 s are inside; the last two are lost. The next enter at 18, 20 (lost at 28 and 30 s) and 22 s.
    const seen = observe(belt([onBelt, jam('16 s', 2)]), 33, drive)
    expect(seen.exits).toEqual([10, 12, 14, 16, 18, 32])
    expect(lostOf(seen, 33)).toEqual([2, 2])
  })

  test('in a tube they are the first of the load', () => {
    // Load of three 3 to 23 s; down 23 to 28 s with the next inside; 48 s: two lost; down 48 to 53 s; 73 s.
    const tube: Route = [
      { step: 'in', cycle: '1 s' },
      { buffer: 'store', capacity: 9 },
      {
        step: 'tube',
        batch: { load: 3, time: '20 s' },
        stops: [{ stop: 'clean', counts: 'loads', every: 1, lasts: '5 s', setUpWafers: 2 }],
      },
    ]
    const seen = observe(tube, 80, drive)
    expect(seen.exits).toEqual([23, 23, 23, 48, 73])
    expect(lostOf(seen, 80)).toEqual([4])
  })

  test('between the least and the most, each number as likely', () => {
    // 1 to 3 wafers after every tenth of 1 s: stops every 10 s and lasting 1 ms, two wafers each on average.
    const often: Stop = { ...change, every: 10, lasts: '1 ms', setUpWafers: [1, 3] }
    const { figures, rows } = observe([{ step: 'print', cycle: '1 s', stops: [often] }], 3000, drive)
    const stops = (figures.steps[0].stops[0].perDay * 3000) / 86_400
    // 300 stops; the standard deviation of their mean is sqrt(2/3 / 300) = 0.047.
    expect(Math.abs(rows.audit.lost / stops - 2)).toBeLessThan(0.19)
    expect(stops).toBeGreaterThan(295)
  })
})
