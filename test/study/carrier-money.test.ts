import { describe, expect, it } from 'vitest'
import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'
import { missingMoney } from '../../sim/line/check-money.ts'
import { outlayBetween } from '../../sim/study/designs/cost.ts'
import { type PricedLine, paybackStudy } from '../../sim/study/payback/payback.ts'
import { checked, here, optionsOf } from './lines.ts'

const MONEY = { currency: 'EUR', pricePerCell: 0.5, wafer: 0.2, discountRate: '9 %', years: 5 } as const

/** Three carriers of 20 wafers and a trolley that takes 10 min there and is away 10 min more. */
const line = (money: object) => ({
  fleets: { trolleys: { number: 3 } },
  route: [
    { step: 'a', cycle: '5 s' },
    {
      carriers: 'cassettes',
      holds: 20,
      number: 3,
      moved: { takes: '10 min', by: 'trolleys' },
      back: '10 min',
    },
    { step: 'b', cycle: '4 s' },
  ],
  money: { ...MONEY, ...money },
})

describe('carriers and vehicles', () => {
  it('are bought by number', () => {
    const before = checked(
      line({ carriers: { cassettes: 120 }, vehicles: { trolleys: 60_000 } }),
    ) as PricedLine
    const after = checked({
      ...line({}),
      fleets: { trolleys: { number: 5 } },
      route: (line({}).route as object[]).map(item => ('carriers' in item ? { ...item, number: 7 } : item)),
    })
    expect(outlayBetween(before, after, before.money)).toEqual({
      investment: 4 * 120 + 2 * 60_000,
      perYear: 0,
    })
    expect(outlayBetween(before, after, MONEY)).toBeUndefined()
  })

  it('are tried by payback, and what has no price is told', async () => {
    const given = checked(line({ carriers: { cassettes: 120 } })) as PricedLine
    const { changes } = await paybackStudy(given, optionsOf({ days: 2, replications: 2 }), here())
    const carrier = changes.find(({ kind }) => kind === 'carrier')
    const vehicle = changes.find(({ kind }) => kind === 'vehicle')
    expect([carrier?.name, vehicle?.name]).toEqual(['one more of cassettes', 'one more vehicle in trolleys'])
    // By hand: each of the carriers goes round in 1276 s with 20 wafers: 56.4/h more, as long as a trolley is there for each.
    const { low = 0, high = 0 } = carrier?.gainPerHour ?? {}
    expect(low).toBeLessThan((20 * 3600) / 1276)
    expect(high).toBeGreaterThan((20 * 3600) / 1276)
    expect(carrier?.investment).toBe(120)
    expect(vehicle?.investment).toBeUndefined()
    expect(missingMoney(given)).toContain('money.vehicles has no price of one of "trolleys"')
  })

  it('have prices under the names that they have', () => {
    const { problems } = checkLine({
      line: 'x',
      ...line({ carriers: { casette: 1 }, vehicles: { vans: 1 } }),
    })
    expect(problems.map(problemText)).toEqual([
      'money → carriers → "casette": found an unknown name, expected the name of carriers (did you mean "cassettes"?)',
      'money → vehicles → "vans": found an unknown name, expected the name of a fleet',
    ])
  })
})
