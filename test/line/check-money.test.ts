import { describe, expect, it } from 'vitest'
import { missingMoney } from '../../sim/line/check-money.ts'
import { problemsIn, routeOf, valid, wafer, warningsIn } from './lines.ts'

const STORE = { buffer: 'store', capacity: 10 }
const line = (more: object) => ({
  ...routeOf({ step: 'print', cycle: '2 s' }, STORE, { step: 'test', cycle: '2 s' }),
  ...more,
})
const MONEY = { currency: 'EUR', pricePerCell: 1, wafer: 0.5 }
const COMPLETE = {
  ...MONEY,
  discountRate: '8 %',
  years: 7,
  tools: {
    print: { price: 4e5 },
    test: { price: 3e5, installation: 1e4, upkeep: '4 %', floorArea: '12 m2' },
  },
  places: { store: 40 },
  fasterRepair: { shorterBy: '25 %', investment: 20_000, perYear: -100 },
}

describe('money', () => {
  it('may be complete, or in part', () => {
    expect(problemsIn(line({ money: COMPLETE }))).toEqual([])
    expect(warningsIn(line({ money: COMPLETE }))).toEqual([])
    expect(problemsIn(line({ money: MONEY }))).toEqual([])
  })

  it('tells what payback would have to know', () => {
    const found =
      'money has no discountRate; money has no years; money.tools has no price of a tool of "print" and "test"; ' +
      'money.places has no price of a place in "store"; money has no fasterRepair'
    expect(warningsIn(line({ money: MONEY }))).toEqual([expect.stringContaining(found)])
    expect(missingMoney(valid(line({})))).toEqual(['the line has no block "money"'])
  })

  it('asks for the wages of crews and the prices of variants', () => {
    const more = { crews: { technicians: { heads: 2 } }, variants: { fast: { print: { cycle: '1 s' } } } }
    expect(missingMoney(valid(line({ money: COMPLETE, ...more })))).toEqual([
      'money.wages has nothing for "technicians"',
      'money.variants has no price of "fast"',
    ])
  })

  it.each([
    [
      { currency: 'EUR', wafer: 0.5 },
      'found no price of a cell, expected either pricePerWatt or pricePerCell',
    ],
    [{ ...MONEY, pricePerWatt: 1 }, 'found both pricePerWatt and pricePerCell'],
    [{ ...MONEY, wafer: -1 }, 'money → wafer: found -1, expected a number from 0'],
    [{ ...MONEY, years: 0 }, 'money → years: found 0, expected a whole number from 1 to 50'],
    [{ ...MONEY, discountRate: 0.1 }, 'money → discountRate: found 0.1, expected a share'],
    [{ ...MONEY, tools: { prnt: { price: 1 } } }, 'did you mean "print"?'],
    [{ ...MONEY, tools: { print: {} } }, 'money → tools → print → price: found nothing, expected a number'],
    [{ ...MONEY, addedPerWafer: { store: 1 } }, 'expected the name of a step'],
    [{ ...MONEY, dummies: { store: 1 } }, 'expected the name of a step'],
    [{ ...MONEY, stops: { store: { jam: 1 } } }, 'found an unknown name, expected the name of a step'],
    [
      { ...MONEY, stops: { print: { jam: 1 } } },
      'money → stops → "print" → "jam": found an unknown name, expected a stop of "print"',
    ],
    [{ ...MONEY, stops: { print: { jam: -1 } } }, 'money → stops → print → jam: found -1, expected a number'],
    [{ ...MONEY, stops: { print: 5 } }, 'expected an object such as { "screen change": 60 }'],
    [{ ...MONEY, places: { print: 1 } }, 'expected the name of a buffer'],
    [{ ...MONEY, prise: 1 }, 'found an unknown key'],
  ])('is wrong as %j', (money, text) => {
    const problems = problemsIn(line({ money })).join('\n')
    expect(problems).toContain(text)
  })

  it('by the watt needs a wafer', () => {
    const { pricePerCell: _cell, ...money } = { ...MONEY, pricePerWatt: 0.06 }
    expect(problemsIn(line({ money })).join()).toContain('a price per watt without the watts of a cell')
    expect(problemsIn(line({ money, wafer }))).toEqual([])
  })

  it('of a variant is not asked for in the variant itself', () => {
    const variants = { fast: { print: { cycle: '1 s' } } }
    const money = { ...COMPLETE, variants: { fast: { investment: 1000 } } }
    expect(problemsIn(line({ money, variants }))).toEqual([])
    expect(
      problemsIn(line({ money: { ...money, variants: { fsat: { investment: 1 } } }, variants })).join(),
    ).toContain('did you mean "fast"?')
  })
})

describe('sizing', () => {
  it('leaves numbers open', () => {
    expect(problemsIn(line({ sizing: { tools: { print: [1, 4] }, buffers: { store: [0, 20] } } }))).toEqual(
      [],
    )
  })

  it.each([
    [
      { tools: { print: [4, 1] } },
      'expected the least and the most, whole numbers from 1 to 200, as in [1, 4]',
    ],
    [{ tools: { store: [1, 2] } }, 'expected the name of a step'],
    [{ buffers: { store: [20, 10] } }, 'expected a list of whole numbers from 0 to 10000000 that rise'],
    [{ lanes: { print: [1, 2] } }, 'expected the name of a group'],
    [{ heads: { night: [1, 2] } }, 'expected the name of a crew'],
    [{ floorArea: '100 m' }, 'expected an area'],
  ])('is wrong as %j', (sizing, text) => {
    expect(problemsIn(line({ sizing })).join('\n')).toContain(text)
  })

  it('cannot multiply what is not equal', () => {
    const cycles = routeOf({ step: 'print', tools: 2, cycles: ['2 s', '3 s'] })
    expect(problemsIn({ ...cycles, sizing: { tools: { print: [1, 3] } } }).join()).toContain('equal tools')
    const lanes = routeOf({
      group: 'lanes',
      lanes: { A: [{ step: 'a', cycle: '1 s' }], B: [{ step: 'b', cycle: '1 s' }] },
    })
    expect(problemsIn({ ...lanes, sizing: { lanes: { lanes: [1, 3] } } }).join()).toContain('equal lanes')
    const endless = routeOf({ step: 'a', cycle: '1 s' }, { buffer: 'b', capacity: 'unlimited' })
    expect(problemsIn({ ...endless, sizing: { buffers: { b: [1, 3] } } }).join()).toContain(
      'a buffer with a capacity',
    )
  })
})
