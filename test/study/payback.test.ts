import { describe, expect, it } from 'vitest'
import { outlayBetween, totalCost } from '../../sim/study/designs/cost.ts'
import { returnOf, verdictOf } from '../../sim/study/payback/cash.ts'
import { type PricedLine, paybackStudy } from '../../sim/study/payback/payback.ts'
import { checked, here, optionsOf } from './lines.ts'

const MONEY = {
  currency: 'EUR',
  pricePerCell: 1,
  wafer: 0.5,
  addedPerWafer: { print: 0.1, test: 0.02 },
  hoursPerYear: 8000,
  discountRate: '10 %',
  years: 5,
  perKilowattHour: 0.1,
  tools: {
    print: { price: 400_000, installation: 20_000, upkeep: '5 %', kilowatts: 10, floorArea: '12 m2' },
    test: { price: 100_000 },
  },
  places: { store: 100 },
  fasterRepair: { shorterBy: '50 %', investment: 1000 },
}

const line = checked({
  route: [
    { step: 'print', cycle: '4 s' },
    { buffer: 'store', capacity: 10 },
    { step: 'test', cycle: '3 s', reject: '10 %' },
  ],
  money: MONEY,
  variants: { 'faster print': { print: { cycle: '3.5 s' } } },
}) as PricedLine

const options = optionsOf({ days: 1, replications: 2 })

describe('payback', () => {
  it('counts cells, wafers and running costs of one more tool', async () => {
    const study = await paybackStudy(line, options, here())
    const print = study.changes.find(({ name }) => name === 'one more tool of print')
    // 900/h become 1200/h, a tenth rejected at test: 270 good cells more of 300 wafers more.
    expect(print?.gainPerHour.mean).toBeCloseTo(270, -1)
    // What is lost at test has cost 0.62 each; upkeep 20 000 a year, power 10 kW x 8000 h x 0.1.
    const cash = (270 - 300 * 0.62) * 8000 - 20_000 - 8000
    expect((print?.cashPerYear.mean ?? NaN) / cash).toBeCloseTo(1, 1)
    expect(print?.investment).toBe(420_000)
    expect((print?.paybackYears?.mean ?? NaN) / (420_000 / cash)).toBeCloseTo(1, 1)
    expect(print?.verdict).toBe('shown to pay')
    const store = study.changes.find(({ kind }) => kind === 'buffer')
    expect([store?.name, store?.verdict, store?.investment]).toEqual([
      'store for 20 wafers',
      'no difference in any run',
      1000,
    ])
  })

  it('counts one more tool where each has a cycle time of its own, and its price', async () => {
    const mixed = checked({
      route: [
        { step: 'before', cycle: '0.5 s' },
        { buffer: 'store', capacity: 20 },
        { step: 'print', tools: 2, cycles: ['2 s', '4 s'] },
      ],
      money: { currency: 'EUR', pricePerCell: 1, wafer: 0.5, tools: { print: { price: 1000 } } },
    }) as PricedLine
    const { changes } = await paybackStudy(mixed, options, here())
    const print = changes.find(({ name }) => name === 'one more tool of print')
    // By hand: 3600 / 2 + 3600 / 4 = 2,700/h; one more like the last, of 4 s, makes 900/h more.
    expect(print?.changes).toEqual(['print: tools 2 -> 3', 'print: cycles [2 s, 4 s] -> [2 s, 4 s, 4 s]'])
    expect(print?.gainPerHour.mean).toBeCloseTo(900, 0)
    expect(print?.investment).toBe(1000)
  })

  it('makes no pair of a change and a variant that says the same', async () => {
    const variants = { 'a second printer': { print: { tools: 2 } } }
    const study = await paybackStudy({ ...line, variants } as PricedLine, options, here())
    const names = study.changes.map(({ name }) => name)
    expect(names).toEqual(expect.arrayContaining(['one more tool of print', 'a second printer']))
    const printers = ['one more tool of print', 'a second printer']
    expect(study.pairs.length).toBeGreaterThan(0)
    expect(
      study.pairs.filter(({ first, second }) => printers.includes(first) && printers.includes(second)),
    ).toEqual([])
  })

  it('shows a variant without a price with what it would be worth', async () => {
    const study = await paybackStudy(line, options, here())
    const variant = study.changes.find(({ kind }) => kind === 'variant')
    expect(variant?.verdict).toBe('no price given')
    expect(variant?.worth?.mean).toBeGreaterThan(0)
    expect(variant?.npv).toBeUndefined()
    expect(study.missing).toEqual(['money.variants has no price of "faster print"'])
  })

  it('tells a variant from a change that is called the same', async () => {
    const name = 'one more tool of print'
    const money = { ...MONEY, variants: { [name]: { investment: 5 } } }
    const same = checked({ ...line, money, variants: { [name]: { print: { tools: 2 } } } }) as PricedLine
    const { changes } = await paybackStudy(same, options, here())
    const of = (kind: string) => changes.find(change => change.kind === kind && change.name.includes(name))
    expect([of('tool')?.name, of('tool')?.investment]).toEqual([name, 420_000])
    expect([of('variant')?.name, of('variant')?.investment]).toEqual([`variant "${name}"`, 5])
  })

  it('finds two tools worth more together than their sum', async () => {
    const { variants: _none, ...rest } = line
    const equal = checked({
      ...rest,
      route: [
        { step: 'print', cycle: '3 s' },
        { buffer: 'store', capacity: 10 },
        { step: 'test', cycle: '3 s' },
      ],
    }) as PricedLine
    const study = await paybackStudy(equal, optionsOf({ replications: 2 }), here())
    const both = study.pairs.find(({ first, second }) =>
      `${first} ${second}`.match(/print.*test|test.*print/),
    )
    expect(both?.worthMoreThanSum).toBe('more')
    expect(both?.overSum.mean).toBeCloseTo(1200, -1)
  })
})

describe('money of a change', () => {
  const money = { ...line.money, discountRate: '0 %' as const, years: 4 }
  const outlay = { investment: 1000 }
  const sure = { mean: 500, low: 400, high: 600, n: 5 }

  it('carries the interval of the cash through', () => {
    const back = returnOf(sure, outlay, money)
    expect(back.paybackYears).toEqual({ mean: 2, low: 1000 / 600, high: 2.5, n: 5 })
    expect(back.npv).toEqual({ mean: 1000, low: 600, high: 1400, n: 5 })
    expect(back.worth).toEqual({ mean: 2000, low: 1600, high: 2400, n: 5 })
    expect(back.internalRate?.low).toBeLessThan(back.internalRate?.mean ?? NaN)
  })

  it('may never come back at the low end, or at all', () => {
    const unsure = returnOf({ mean: 100, low: -50, high: 250, n: 5 }, outlay, money)
    expect(unsure.paybackYears).toEqual({ mean: 10, low: 4, n: 5 })
    expect(returnOf({ mean: -1, low: -2, high: 1, n: 5 }, outlay, money).paybackYears).toBeUndefined()
  })

  it('has a verdict for every case', () => {
    const gain = (low: number, high: number) => ({ mean: (low + high) / 2, low, high, n: 5 })
    const verdict = (cells: [number, number], npv: [number, number], touches = true) =>
      verdictOf(gain(...cells), gain(-1, 1), outlay, { npv: gain(...npv) }, touches)
    expect(verdict([1, 2], [1, 2])).toBe('shown to pay')
    expect(verdict([1, 2], [-1, 2])).toBe('not shown to pay')
    expect(verdict([1, 2], [-2, -1])).toBe('shown not to pay')
    expect(verdict([-1, 2], [-1, 2])).toBe('no difference shown')
    expect(verdict([-1, 2], [-2, -1])).toBe('shown not to pay')
    expect(verdict([-1, 1], [-2, -1], false)).toBe('no difference in any run')
    expect(verdict([-1, 2], [1, 2])).toBe('shown to pay')
    expect(verdictOf(gain(1, 2), gain(1, 2), undefined, {}, true)).toBe('no price given')
    // Parts may be shown where no cell is.
    expect(verdictOf(gain(-1, 1), gain(5, 6), undefined, {}, true)).toBe('no price given')
    expect(verdictOf(gain(-1, 1), gain(5, 6), outlay, { npv: gain(-2, 6) }, true)).toBe('not shown to pay')
    expect(verdictOf(gain(-1, 1), gain(-6, -5), outlay, { npv: gain(-9, -8) }, true)).toBe('shown not to pay')
  })
})

describe('cost of a line', () => {
  it('pays heads for the hours in which they are on duty', () => {
    const shifts = { early: { from: '06:00', to: '14:00' }, late: { from: '14:00', to: '22:00' } } as const
    const crewed = (heads: number | { early: number }) => ({
      ...line,
      calendar: { shifts },
      crews: { fitters: { skills: ['repair'], heads } },
      money: { ...line.money, wages: { fitters: 40 }, hoursPerYear: 8760 },
    })
    const more = (from: number | { early: number }, to: number | { early: number }) =>
      outlayBetween(crewed(from), crewed(to), crewed(from).money)?.perYear
    // 8 of 24 hours, every day: 40 x 8760 / 3; one who is always there: 40 x 8760.
    expect(more({ early: 1 }, { early: 2 })).toBeCloseTo(116_800, 6)
    expect(more(1, 2)).toBeCloseTo(350_400, 6)
  })

  it('adds up what is bought, and what it costs over its life', () => {
    const free = { ...line.money, discountRate: '0 %' as const }
    const total = totalCost(line, free)
    expect(total.investment).toBe(420_000 + 100_000 + 10 * 100)
    expect(total.perYear).toBe(28_000)
    expect(total.wholeLife).toBe(total.investment + 5 * 28_000)
    expect(total.floor).toBe(12)
  })

  it('is not known when a thing that differs has no price', () => {
    const { places: _places, ...money } = line.money
    const larger = {
      ...line,
      route: line.route.map(item => ('buffer' in item ? { ...item, capacity: 12 } : item)),
    }
    expect(outlayBetween(line, larger, line.money)).toEqual({ investment: 200, perYear: 0 })
    expect(outlayBetween(line, larger, money)).toBeUndefined()
    expect(outlayBetween(line, line, money)).toEqual({ investment: 0, perYear: 0 })
  })
})
