import { describe, expect, test } from 'vitest'
import type { Batch, Route } from '../../sim/line/types.ts'
import { marginPerYear } from '../../sim/study/designs/pricing.ts'
import { observe } from './observe.ts'

/** Short loads filled up with dummy wafers: lines that a pencil solves. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** A wafer every 10 s before loads of four; two of them wait 5 s for the others. */
const furnace = (batch: Partial<Batch>): Route => [
  { step: 'in', cycle: '10 s' },
  { buffer: 'store', capacity: 40 },
  {
    step: 'furnace',
    batch: { load: 4, least: 2, longestWait: '5 s', time: '10 s', dummies: { runs: 50 }, ...batch },
  },
]

const RUN = 1000
const perRun = (perDay: number) => (perDay * RUN) / 86_400

describe.each(DRIVES)('%s drive', drive => {
  test('fill the places that a short load leaves, and go their way without being counted as wafers', () => {
    // Wafers at 10 and 20 s: a load of two starts at 25 s, the next at 45 s, ... the 49th at 985 s, each with two dummies.
    const { exits, figures } = observe(furnace({}), RUN, drive)
    expect(exits.slice(0, 4)).toEqual([35, 35, 55, 55].map(t => expect.closeTo(t, 5)))
    expect(perRun(figures.steps[1].dummiesPerDay)).toBeCloseTo(2 * 49, 9)
    expect(figures.steps[1].startsPerHour * (RUN / 3600)).toBeCloseTo(2 * 49, 9)
    expect(figures.steps[0].dummiesPerDay).toBe(0)
  })

  test('take no time: all is as without them', () => {
    const { dummies: _dummies, ...empty } = { ...(furnace({})[2] as { batch: Batch }).batch }
    const without = observe([...furnace({}).slice(0, 2), { step: 'furnace', batch: empty }], RUN, drive)
    expect(without.exits).toEqual(observe(furnace({}), RUN, drive).exits)
    expect(without.figures.steps[1].dummiesPerDay).toBe(0)
  })

  test('are none in full loads', () => {
    // Four wafers take 40 s, of which the second has waited 20 s by then.
    const { exits, figures } = observe(furnace({ longestWait: '25 s' }), RUN, drive)
    expect(exits.slice(0, 5)).toEqual([50, 50, 50, 50, 90])
    expect(figures.steps[1].dummiesPerDay).toBe(0)
  })
})

test('a worn out dummy wafer costs its price', () => {
  const line = { line: 'x', route: furnace({}) }
  const money = { currency: 'EUR', pricePerCell: 1, wafer: 0, dummies: { furnace: 0.5 }, hoursPerYear: 8000 }
  const none = [0, 0]
  const output = {
    ...{
      hours: 24,
      tools: [1, 1],
      goodPerHour: 0,
      startedPerHour: 0,
      efficiency: undefined,
      wip: 0,
      throughputHours: undefined,
    },
    ...{ startsPerHour: none, lostPerHour: none, reworkedPerHour: none, latePerHour: [] },
    dummiesPerHour: [0, 200],
    stopsPerHour: [],
  }
  // 200 places an hour, a dummy of 0.5 for each 50 of them: 2 an hour.
  const margin = marginPerYear({ ...line, money }, money, ['in', 'furnace'], output)
  expect(margin).toBeCloseTo(-2 * 8000, 6)
})
