import { expect, it } from 'vitest'
import { stopsOf } from '../../sim/study/designs/worst-stops.ts'
import { changesToTry } from '../../sim/study/payback/changes.ts'
import type { PricedLine } from '../../sim/study/payback/payback.ts'
import { checked } from './lines.ts'

/** Prices by hand: what stands in each of four lanes is bought four times, and its name says so. */
it('names how many are bought where lanes have one each', () => {
  const jam = { stop: 'jam', every: { exponential: '2 h' }, lasts: '4 min' }
  const line = checked({
    route: [
      { step: 'print', cycle: '1 s', stops: [jam] },
      {
        group: 'lanes',
        lanes: ['a', 'b', 'c', 'd'],
        each: [
          { step: 'dry', cycle: '3 s', stops: [{ ...jam, stop: 'belt' }] },
          { buffer: 'magazine', capacity: 50 },
          { step: 'test', cycle: '3 s' },
        ],
      },
    ],
    money: {
      currency: 'EUR',
      pricePerCell: 1,
      wafer: 0.5,
      tools: { print: { price: 400_000 }, dry: { price: 90_000 }, test: { price: 1 } },
      places: { magazine: 10 },
      fasterRepair: { shorterBy: '25 %', investment: 15_000 },
    },
  }) as PricedLine
  const changes = changesToTry(line, line.money, stopsOf(line))
  expect(changes.map(({ name, outlay }) => [name, outlay?.investment])).toEqual([
    ['one more tool of print', 400_000],
    ['4 more tools of dry, one in each lane', 4 * 90_000],
    ['4 more tools of test, one in each lane', 4],
    ['one more lane of lanes', 90_000 + 50 * 10 + 1],
    ['magazine for 100 wafers, in each of 4 lanes', 4 * 50 * 10],
    ['jam at print shorter by 25 %', 15_000],
    ['belt at dry shorter by 25 %, in each of 4 lanes', 4 * 15_000],
  ])
})
