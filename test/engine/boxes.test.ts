import { describe, expect, test } from 'vitest'
import { BLOCKED, UNSCHEDULED_DOWN, WAITING_FOR_CREW } from '../../sim/engine/meter.ts'
import type { Bins, Line, Route, Step } from '../../sim/line/types.ts'
import { binsPlan, boxesPlan } from '../../sim/plan/bins-plan.ts'
import { observe } from './observe.ts'

/** Boxes behind a tester: lines that a pencil solves; the arithmetic stands beside each. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

const wafer = { area: '330 cm2', efficiency: { mean: '23.2 %' } } as const
const ONE_BIN = { first: '22 %', width: '2 %', count: 1 } as const
/** 10 s a cell, all into one output. */
const tester: Step = { step: 'test', cycle: '10 s', test: {} }

const sorting = (boxes: NonNullable<Bins['boxes']>, more: Partial<Line> = {}): Partial<Line> => ({
  wafer,
  bins: { ...ONE_BIN, boxes },
  ...more,
})

/** Seconds for which testers were held, and boxes that were swapped, in a run of so many seconds. */
function heldAndSwapped({ figures }: ReturnType<typeof observe>, seconds: number): readonly number[] {
  return [figures.heldHoursPerDay * (seconds / 24), Math.round(figures.swapsPerDay * (seconds / 86_400))]
}

describe.each(DRIVES)('%s drive', drive => {
  test.each([
    // Full at 30 s, empty again at 35 s, before the next cell is tested.
    ['5 s', [10, 20, 30, 40, 50, 60, 70, 80], 0],
    // Empty again at the tick at which the next cell is tested.
    ['10 s', [10, 20, 30, 40, 50, 60, 70, 80], 0],
    // Full 30 to 45 s: the cell tested at 40 s is held for 5 s. Then full at 65 s until 80 s: that of 75 s is held.
    ['15 s', [10, 20, 30, 45, 55, 65, 80], 10],
  ] as const)('one box of three cells, swapped in %s', (lasts, exits, held) => {
    const observed = observe([tester], 85, drive, sorting({ holds: 3, perOutput: 1, swap: { lasts } }))
    expect(observed.exits).toEqual(exits)
    expect(heldAndSwapped(observed, 85)).toEqual([expect.closeTo(held, 9), 2])
    expect(observed.figures.steps[0].states[BLOCKED]).toBeCloseTo(held / 85, 9)
  })

  test('two boxes: the second is filled while the first is swapped, and the tester is held when both are full', () => {
    // First full 20 to 65 s, second 40 to 85 s: the cell of 50 s is held until 65 s. First full again 75 to 120 s;
    // the cell of 85 s finds the second empty, which is full 95 to 140 s; that of 105 s is held until 120 s.
    const observed = observe([tester], 125, drive, sorting({ holds: 2, swap: { lasts: '45 s' } }))
    expect(observed.exits).toEqual([10, 20, 30, 40, 65, 75, 85, 95, 120])
    expect(heldAndSwapped(observed, 125)).toEqual([expect.closeTo(15 + 15, 9), 4])
  })

  test('who swaps is called when the box is full', () => {
    // Full at 20 s, people there at 50 s, swapped at 55 s; the cell of 30 s is held. Then full at 65 s, swapped at 100 s.
    const more = sorting(
      { holds: 2, perOutput: 1, swap: { lasts: '5 s', skill: 'crew' } },
      { crews: { crew: { heads: 1, reach: '30 s' } } },
    )
    const observed = observe([tester], 105, drive, more)
    expect(observed.exits).toEqual([10, 20, 55, 65, 100])
    expect(heldAndSwapped(observed, 105)).toEqual([expect.closeTo(25 + 25, 9), 2])
    // The tool does not wait for people itself.
    expect(observed.figures.steps[0].states[WAITING_FOR_CREW]).toBe(0)
    const sum = (column: Float64Array | undefined) => column?.reduce((a, b) => a + b, 0)
    expect(sum(observed.rows.people?.calls)).toBe(2)
    expect(sum(observed.rows.people?.waited)).toBe(60e6)
  })

  test('a swap waits while the people are elsewhere', () => {
    // Cells from 1 s on: tested at 11 s, 21 s (full), 31 s. The only person is at the first step 19 to 49 s, then swaps until 54 s.
    const route: Route = [
      {
        step: 'in',
        cycle: '1 s',
        stops: [
          {
            ...{ stop: 's', counts: 'calendar time', every: '9 h', first: '19 s' },
            ...{ lasts: '30 s', skill: 'crew' },
          },
        ],
      },
      { buffer: 'b', capacity: 100 },
      tester,
    ]
    const more = sorting(
      { holds: 2, perOutput: 1, swap: { lasts: '5 s', skill: 'crew' } },
      { crews: { crew: { heads: 1 } } },
    )
    expect(observe(route, 70, drive, more).exits).toEqual([11, 21, 54, 64])
  })

  test('of two full boxes of one output each has its own call, and the first full is swapped first', () => {
    // Full at 10 and 20 s. One person swaps 10 to 35 s, then 35 to 60 s: the cell of 30 s is held until 35 s (full again),
    // that of 45 s until 60 s.
    const more = sorting(
      { holds: 1, swap: { lasts: '25 s', skill: 'crew' } },
      { crews: { crew: { heads: 1 } } },
    )
    expect(observe([tester], 70, drive, more).exits).toEqual([10, 20, 35, 60])
    // Two people swap both: 10 to 35 s and 20 to 45 s, then 35 to 60 s and 45 to 70 s.
    const two = { ...more, crews: { crew: { heads: 2 } } }
    expect(observe([tester], 75, drive, two).exits).toEqual([10, 20, 35, 45, 60, 70])
  })

  test('tools of one step share the boxes; the lower number goes first', () => {
    const pair: Route = [{ ...tester, tools: 2 }]
    // Full at 20 s, until 35 s: both cells of 30 s are held. Full at 45 s, until 60 s.
    const four = sorting({ holds: 4, perOutput: 1, swap: { lasts: '15 s' } })
    expect(observe(pair, 65, drive, four).exits).toEqual([10, 10, 20, 20, 35, 35, 45, 45, 60, 60])
    // Tool 1 fills the box at 10 s, so tool 2 is held until 14 s and fills it then; from there on they alternate.
    const single = sorting({ holds: 1, perOutput: 1, swap: { lasts: '4 s' } })
    expect(observe(pair, 36, drive, single).exits).toEqual([10, 14, 20, 24, 30, 34])
    // Both held at 30 s until 35 s: tool 1 fills it again, and tool 2 is held until 60 s.
    const slow = sorting({ holds: 1, swap: { lasts: '25 s' } })
    expect(observe(pair, 61, drive, slow).exits).toEqual([10, 10, 35, 35, 60, 60])
    const one = sorting({ holds: 1, perOutput: 1, swap: { lasts: '25 s' } })
    expect(observe(pair, 61, drive, one).exits).toEqual([10, 35, 60])
  })

  test('a stop strikes a tester that is held', () => {
    // Held from 40 s on, box empty again at 45 s; down 42 to 48 s: it hands over when it is up.
    const route: Route = [
      {
        ...tester,
        stops: [{ stop: 's', counts: 'calendar time', every: '9 h', first: '42 s', lasts: '6 s' }],
      },
    ]
    const observed = observe(route, 60, drive, sorting({ holds: 3, perOutput: 1, swap: { lasts: '15 s' } }))
    expect(observed.exits).toEqual([10, 20, 30, 48, 58])
    expect(heldAndSwapped(observed, 60)).toEqual([expect.closeTo(2, 9), 1])
    expect(observed.figures.steps[0].states[UNSCHEDULED_DOWN]).toBeCloseTo(6 / 60, 9)
  })

  test('a cell is in its box from the test on, though it waits for its place behind', () => {
    // The second cell fills the box at 20 s and waits for the next step until 40 s. The third is tested at 50 s and held until 80 s;
    // the fourth fills the box again at 90 s.
    const route: Route = [tester, { step: 'pack', cycle: '30 s' }]
    const observed = observe(route, 115, drive, sorting({ holds: 2, perOutput: 1, swap: { lasts: '60 s' } }))
    expect(observed.exits).toEqual([40, 70, 110])
    expect(heldAndSwapped(observed, 115)).toEqual([expect.closeTo(30, 9), 2])
  })

  test('a step behind the test has the boxes: what two testers have measured fills one box', () => {
    // Each lane a cell at 10, 20, ... s (and a microsecond to join); the sorter needs 1 s each: cells at 11 and 12 s, 21 and 22 s, the
    // fourth fills the box until 37 s. Those of 30 s wait: the first is held from 31 s on, the second goes in 1 s after it.
    const lanes: Route = [
      { group: 'testers', lanes: ['a', 'b'], each: [{ buffer: 'before', capacity: 3 }, tester] },
      { buffer: 'between', capacity: 9 },
      { step: 'sort', cycle: '1 s' },
    ]
    const boxes = { at: 'sort', holds: 4, perOutput: 1, swap: { lasts: '15 s' } } as const
    const observed = observe(lanes, 39, drive, sorting(boxes))
    const [first, ...rest] = observed.exits.map(time => Math.round(time * 1e3) / 1e3)
    expect([first, ...rest]).toEqual([11, 12, 21, 22, 37, 38])
    expect(heldAndSwapped(observed, 39)).toEqual([expect.closeTo(6, 3), 1])
    expect(observed.figures.steps[0].states[BLOCKED]).toBe(0)
    expect(observed.figures.steps[1].states[BLOCKED]).toBeCloseTo(6 / 39, 4)
  })

  test('a cell keeps its class until it comes to its box', () => {
    // Two outputs of 100 cells each, never swapped: the tester with boxes is held by the 101st cell of one class, and so is the
    // sorter, which gets the same cells.
    const looks: Step = { ...tester, cycle: '1 s', test: { downgrades: '50 %' } }
    const route: Route = [looks, { buffer: 'between', capacity: 5000 }, { step: 'sort', cycle: '1 s' }]
    const boxes = { holds: 100, perOutput: 1, swap: { lasts: '9 h' } } as const
    const here = observe([looks], 1000, drive, sorting(boxes))
    const behind = observe(route, 1000, drive, sorting({ ...boxes, at: 'sort' }))
    expect(behind.exits).toEqual(here.exits.map(time => time + 1))
    // 100 of one class, and about as many of the other: binomial, 5 standard deviations.
    expect(Math.abs(here.exits.length - 185)).toBeLessThan(36)
    expect(behind.rows.line.bins.slice(-2).reduce((sum, cells) => sum + cells, 0)).toBe(999)
  })

  test('cells of other bins fall into other boxes', () => {
    // Low-grade cells have a box of their own, which never holds the others.
    const more = sorting({ holds: 1_000_000, perOutput: 1, swap: { lasts: '1 s' } })
    const route: Route = [{ ...tester, test: { downgrades: '50 %' } }]
    const { rows } = observe(route, 5000, drive, more)
    const [low, high] = rows.line.bins.slice(-2)
    expect(low + high).toBe(rows.audit.good)
    // Binomial, 4 standard deviations of sqrt(0.25 / 499).
    expect(Math.abs(low / rows.audit.good - 0.5)).toBeLessThan(4 * Math.sqrt(0.25 / 499))
  })

  test('colours are drawn by their shares, and change nothing else', () => {
    const bins = { first: '22 %', width: '0.5 %', count: 4 } as const
    const route: Route = [{ step: 'test', cycle: '1 s', test: { noise: '0.6 %', downgrades: '2 %' } }]
    const plain = observe(route, 2000, drive, { wafer, bins })
    const colours = { light: '30 %', medium: '0 %', dark: '70 %' } as const
    const coloured = observe(route, 2000, drive, { wafer, bins: { ...bins, colours } })
    const counts = coloured.rows.line.bins.slice(-13)
    const perBin = [counts[0], ...[1, 4, 7, 10].map(at => counts[at] + counts[at + 1] + counts[at + 2])]
    expect(perBin).toEqual([...plain.rows.line.bins.slice(-5)])
    expect(Math.min(...perBin)).toBeGreaterThan(20)
    const [light, medium] = [1, 2].map(at => [0, 3, 6, 9].reduce((sum, bin) => sum + counts[bin + at], 0))
    const all = coloured.rows.audit.good - counts[0]
    expect(medium).toBe(0)
    expect(Math.abs(light / all - 0.3)).toBeLessThan(4 * Math.sqrt(0.21 / all))
    expect(coloured.exits).toEqual(plain.exits)
  })
})

describe('the outputs of a sorter', () => {
  const boxes = (more: Partial<NonNullable<Bins['boxes']>>) => {
    const bins: Bins = {
      ...({ first: '22 %', width: '0.1 %', count: 4, colours: { light: '50 %', dark: '50 %' } } as const),
      boxes: { holds: 100, swap: { lasts: '20 s' }, ...more },
    }
    return boxesPlan(bins, binsPlan(bins), { skills: [], crews: [], shifts: [], week: [] })
  }

  test('are one for each bin and colour and one for the low-grade box', () => {
    expect(boxes({})).toMatchObject({ outputs: 9, outputOf: [0, 1, 2, 3, 4, 5, 6, 7, 8], perOutput: 2 })
  })

  test('are one for all bins that have none of their own', () => {
    // Bins 1 and 4 share the fifth.
    expect(boxes({ ownBins: [2, 3] })).toMatchObject({ outputs: 6, outputOf: [0, 5, 5, 1, 2, 3, 4, 5, 5] })
  })
})
