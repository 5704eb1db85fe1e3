import { describe, expect, it } from 'vitest'
import type { Estimate } from '../../sim/stats/estimate.ts'
import { compareDesigns } from '../../sim/study/compare/compare.ts'
import { constraintStudy } from '../../sim/study/constraint/constraint.ts'
import { lossesStudy } from '../../sim/study/losses/losses.ts'
import { type PricedLine, paybackStudy } from '../../sim/study/payback/payback.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, here, optionsOf, rowOf } from './lines.ts'

const day = optionsOf({ days: 1, replications: 2 })
const holds = ({ low = Number.NaN, high = Number.NaN }: Estimate, value: number) =>
  low <= value && value <= high
const MONEY = { currency: 'EUR', pricePerCell: 1, wafer: 0.5, discountRate: '10 %', years: 5 }

/** Nothing in these lines is left to chance: all replications are alike. */
describe('a cell at the edge of the window', () => {
  // By hand: the first wafer is through after 3.05 + 11 + 11 + 3 = 28.05 s, then one each 11 s, so one at
  // 86,400.05 s, just after the day is over. Any step a little faster brings that one into the day, and no
  // more: alone none of the two steps of 11 s gains anything.
  const row = (first: string) =>
    rowOf(20, { cycle: first }, { cycle: '11 s' }, { cycle: '11 s' }, { cycle: '3 s' })
  const twins = row('3.05 s')

  it('names no step that holds the line', async () => {
    const { held, steps } = await constraintStudy(twins, day, here())
    expect(steps.map(({ gainPerHour }) => holds(gainPerHour, 0))).toEqual([true, true, true, true])
    expect(held.by).toBe('no step shown')
  })

  it('makes no design better than another', async () => {
    const designs = [
      { name: 'now', line: twins },
      { name: 'faster', line: row('2.9 s') },
    ]
    const { pairs, best } = await compareDesigns(designs, day, here())
    expect(pairs[0].verdict).toBe('no difference shown')
    expect(best).toHaveLength(2)
  })

  // By hand: the second step in 2 s makes 1,800/h; a tenth faster it takes 1.82 s, and then the third holds the
  // line at 3600 / 1.9 = 1,894.737/h: 94.737 more.
  it('is within the interval of a gain and of the output', async () => {
    const line = rowOf(20, { cycle: '1 s' }, { cycle: '2 s' }, { cycle: '1.9 s' })
    const { goodPerHour, steps } = await constraintStudy(line, day, here())
    expect(holds(goodPerHour, 1800)).toBe(true)
    expect(holds(steps[1].gainPerHour, 3600 / 1.9 - 1800)).toBe(true)
    const { goodPerDay, losses } = await lossesStudy(line, day, here())
    expect(holds(goodPerDay, 43_200)).toBe(true)
    expect(losses.map(({ verdict }) => verdict)).toEqual(['no difference shown'])
  })

  // By hand: two lanes of two tools of 10 s make 4 x 360 = 1,440/h, which the last step, 3,600/h, takes as it comes.
  it('pays for no tool', async () => {
    const line = checked({
      route: [
        { buffer: 'stock', capacity: 10 },
        {
          group: 'lanes',
          lanes: ['A', 'B'],
          each: [
            { buffer: 'rack', capacity: 5 },
            { step: 'print', cycle: '10 s', tools: 2 },
            { step: 'look', cycle: '4 s' },
          ],
        },
        { buffer: 'store', capacity: 10 },
        { step: 'pack', cycle: '1 s' },
      ],
      money: { ...MONEY, tools: { pack: { price: 1 } } },
    }) as PricedLine
    const { changes } = await paybackStudy(line, day, here())
    const pack = changes.find(({ name }) => name === 'one more tool of pack')
    expect(pack && holds(pack.gainPerHour, 0) && holds(pack.cashPerYear, 0)).toBe(true)
    expect(pack?.verdict).toBe('no difference shown')
  })
})

// By hand: the step in the middle holds the line, so a tool more before or behind it brings nothing, alone or with others.
describe('rounding in the last digit', () => {
  it('is no reason to make two changes together', async () => {
    const stop = {
      stop: 'rest',
      counts: 'calendar time',
      every: '10 h',
      first: ['1 h', '2 h'],
      lasts: '1 min',
    }
    const line = checked({
      route: [
        { step: 'before', cycle: '0.5 s' },
        { buffer: 'store', capacity: 20 },
        { step: 'slow', tools: 2, cycles: ['2 s', '4 s'], stops: [stop] },
        { buffer: 'rack', capacity: 20 },
        { step: 'behind', cycle: '0.5 s' },
      ],
      money: { ...MONEY, hoursPerYear: 1000 },
    }) as PricedLine
    const { pairs } = await paybackStudy(line, day, here())
    const idle = pairs.filter(({ first, second }) => /before|behind/.test(`${first} ${second}`))
    expect(idle.length).toBeGreaterThan(0)
    for (const { worthMoreThanSum } of idle) expect(worthMoreThanSum).toBe('no difference shown')
  })
})

/** Nothing is left to chance: one furnace takes 2,400 wafers for 230 min, four take 600 each. All make 626.087/h in the long run. */
describe('a load at the edge of the window', () => {
  const furnaces = (tools: number, prints = 1) =>
    checked({
      feed: { every: '2 s' },
      route: [
        { buffer: 'stock', capacity: 20000 },
        { step: 'furnace', tools, batch: { load: 2400 / tools, time: '230 min' } },
        { buffer: 'rack', capacity: 20000 },
        { step: 'print', tools: prints, cycle: '2 s' },
      ],
    })
  const truth = (2400 * 60) / 230

  it.each([4, 5, 10])('is within the interval of the output: %i days', async days => {
    const { goodOutput } = await runStudy(furnaces(1), { ...optionsOf({ days, replications: 2 }), cap: 2 })
    expect(holds(goodOutput.perHour, truth)).toBe(true)
    // A load over the window at most, but for what the first one took to come.
    const { low = 0, high = 0 } = goodOutput.perHour
    expect((high - low) / 2).toBeLessThan((1.6 * 2400) / (days * 12))
  })

  it('makes no design better than another, and no step hold the line', async () => {
    const designs = [
      { name: 'one', line: furnaces(1) },
      { name: 'four', line: furnaces(4) },
      { name: 'two prints', line: furnaces(1, 2) },
    ]
    const { pairs } = await compareDesigns(designs, optionsOf({ days: 5, replications: 2 }), here())
    expect(pairs.map(({ verdict }) => verdict)).toEqual(Array(3).fill('no difference shown'))
  })
})
