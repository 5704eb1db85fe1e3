import { describe, expect, it } from 'vitest'
import { cellMoney } from '../../sim/line/cell-money.ts'
import { lineWith, valid, warningsIn } from './lines.ts'

/** Warnings of money, as they are shown. Those of what payback would have to know are left out. */

const MONEY = { currency: 'EUR', pricePerWatt: 0.06, wafer: 0.27, addedPerWafer: { print: 0.06 } }
/** 330 cm2 of 24 % have 7.92 W: at 0.06 EUR a cell earns 0.4752 EUR. */
const WAFER = { area: '330 cm2', efficiency: { mean: '24 %' } }
const route = [
  { step: 'print', cycle: '2 s' },
  { step: 'test', cycle: '2 s', reject: '1 %' },
]

const lineOf = (money: object, more: object = {}) => {
  const { pricePerWatt, ...others } = MONEY
  const own = 'pricePerCell' in money ? others : { ...others, pricePerWatt }
  return lineWith({ wafer: WAFER, route, money: { ...own, ...money }, ...more })
}
const warned = (money: object, more: object = {}) =>
  warningsIn(lineOf(money, more)).filter(text => !text.includes('payback'))

describe('a good cell on paper', () => {
  it('earns its watts, and costs what went into lost wafers too', () => {
    const cell = cellMoney(valid(lineOf({})))
    expect(cell?.earns).toBeCloseTo(0.4752, 12)
    // By hand: of 100 wafers printed 99 are good.
    expect(cell?.costs).toBeCloseTo(0.33 / 0.99, 12)
  })

  it('costs what is done again, once more', () => {
    const again = {
      ...{ step: 'test', cycle: '2 s' },
      rework: { share: '20 %', to: 'print', atMost: 1, then: 'pass' },
    }
    // By hand: 120 prints for 100 wafers, all of them good.
    const cell = cellMoney(valid(lineOf({}, { route: [route[0], again] })))
    expect(cell?.costs).toBeCloseTo(0.27 + 1.2 * 0.06, 12)
  })

  it('is not known without money, and where none is good', () => {
    expect(cellMoney(valid(lineWith({ route })))).toBeUndefined()
    const none = [{ step: 'test', cycle: '2 s', test: { rejectBelow: '25 %' } }]
    expect(cellMoney(valid(lineOf({ addedPerWafer: {} }, { route: none })))).toBeUndefined()
  })
})

describe('what a good cell earns against what it costs', () => {
  it.each([
    [{}, []],
    [{ pricePerWatt: 0.043 }, []],
    [
      { pricePerWatt: 0.042 },
      [
        'money → pricePerWatt: found 0.042, so a good cell earns 0.333 EUR, expected more than its wafer and materials cost, 0.333 EUR (every good cell more then loses money)',
      ],
    ],
    [
      { pricePerCell: 0.3 },
      [
        'money → pricePerCell: found 0.3 EUR for a good cell, expected more than its wafer and materials cost, 0.333 EUR (every good cell more then loses money)',
      ],
    ],
    // 10 times 0.3333 EUR are 3.333 EUR.
    [{ pricePerWatt: 0.42 }, []],
    [
      { pricePerWatt: 6 },
      [
        'money → pricePerWatt: found 6, so a good cell earns 47.5 EUR, expected at most some 10 times what its wafer and materials cost, 0.333 EUR (all amounts are in EUR, and the price is of one watt)',
      ],
    ],
    [
      { pricePerCell: 48 },
      [
        'money → pricePerCell: found 48 EUR for a good cell, expected at most some 10 times what its wafer and materials cost, 0.333 EUR (all amounts are in EUR, and the price is of one cell)',
      ],
    ],
    // Wafers of a customer.
    [{ pricePerCell: 0.1, wafer: 0, addedPerWafer: {} }, []],
    // The same line in yen.
    [{ currency: 'JPY', pricePerWatt: 9.6, wafer: 43, addedPerWafer: { print: 9.6 } }, []],
  ])('%#', (money, texts) => {
    expect(warned(money)).toEqual(texts)
  })
})

describe('wages', () => {
  const crews = { technicians: { heads: 2 } }
  const route = [
    {
      ...{ step: 'print', cycle: '2 s' },
      stops: [{ stop: 'jam', every: '2 h', lasts: '1 min', skill: 'technicians' }],
    },
  ]
  it.each([
    [{ wages: { technicians: 90 } }, []],
    [
      { wages: { technicians: 3500 } },
      [
        'money → wages "technicians": found 3500, expected at most what 1000 good cells earn, 475 EUR (wages are those of one head for one hour)',
      ],
    ],
    // Where the price is wrong, it alone is.
    [
      { wages: { technicians: 22 }, pricePerWatt: 0.0006 },
      [expect.stringContaining('money → pricePerWatt: found 0.0006')],
    ],
    [
      { wages: { technicians: 3500 }, pricePerWatt: 0.006 },
      [
        expect.stringContaining('money → pricePerWatt: found 0.006'),
        'money → wages "technicians": found 3500, expected at most what 1000 good cells cost, 330 EUR (wages are those of one head for one hour)',
      ],
    ],
    // Yen: 3,200 an hour, 500,000 a month.
    [
      {
        ...{ currency: 'JPY', pricePerWatt: 9.6, wafer: 43, addedPerWafer: { print: 9.6 } },
        wages: { technicians: 3200 },
      },
      [],
    ],
    [
      {
        ...{ currency: 'JPY', pricePerWatt: 9.6, wafer: 43, addedPerWafer: { print: 9.6 } },
        wages: { technicians: 500_000 },
      },
      [expect.stringContaining('expected at most what 1000 good cells earn, 76000 JPY')],
    ],
  ])('%#', (money, texts) => {
    expect(warned(money, { crews, route })).toEqual(texts)
  })
})

describe('hours and interest of a year', () => {
  it.each([
    [{ hoursPerYear: 1000, discountRate: '8 %' }, []],
    [{ discountRate: '0 %' }, []],
    [{ discountRate: '0.5 %' }, []],
    [{ discountRate: '50 %' }, []],
    [
      { hoursPerYear: 168 },
      [
        'money → hoursPerYear: found 168, expected at least 1000 (they are the hours of a whole year, 8760 without an end of work)',
      ],
    ],
    [
      { discountRate: '0.08 %' },
      [
        'money → discountRate: found "0.08 %", expected at least 0.5 %, or 0 % for none (eight per cent a year are "8 %", not "0.08 %")',
      ],
    ],
    [
      { discountRate: '80 %' },
      [
        'money → discountRate: found "80 %", expected at most 50 % (it is the interest of one year, above what prices rise: amounts are at one price level)',
      ],
    ],
  ])('%#', (money, texts) => {
    expect(warned(money)).toEqual(texts)
  })
})

describe('heads that are paid while the line is closed', () => {
  const days = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri']
  const shifts = {
    early: { from: '06:00', to: '14:00', days },
    'late shift': { from: '14:00', to: '22:00', days },
  }
  const paid = (heads: unknown, wages: object = { technicians: 22 }, calendar: object = { shifts }) => {
    const stops = [{ stop: 'jam', every: '2 h', lasts: '1 min', skill: 'technicians' }]
    const more = { route: [{ ...route[0], stops }], crews: { technicians: { heads } }, calendar }
    return warned({ wages }, more).filter(text => text.includes('paid'))
  }

  it('are told, with the hours of a week', () => {
    // By hand: 168 h less 5 times 16 h.
    expect(paid(2)).toEqual([
      'crews "technicians" → heads: found 2 at all hours, expected heads by shift, which are there only then: { early: 2, "late shift": 2 } (they are paid in the 88 h of the week too in which the line is closed)',
    ])
  })

  it('are not where they have shifts or no wages, are none, or the line never closes', () => {
    expect(paid({ early: 2, 'late shift': 2 })).toEqual([])
    expect(paid(2, {})).toEqual([])
    expect(paid(2, { technicians: 0 })).toEqual([])
    expect(paid(0)).toEqual([])
    expect(paid(2, { technicians: 22 }, { shifts: { all: { from: '06:00', to: '06:00' } } })).toEqual([])
  })

  it('are told once, not for each variant with other heads', () => {
    const stops = [{ stop: 'jam', every: '2 h', lasts: '1 min', skill: 'technicians' }]
    const more = {
      ...{ route: [{ ...route[0], stops }], crews: { technicians: { heads: 2 } }, calendar: { shifts } },
      variants: { three: { line: { crews: { technicians: { heads: 3 } } } } },
    }
    const texts = warned({ wages: { technicians: 22 } }, more).filter(text => text.includes('paid'))
    expect(texts).toEqual([expect.stringMatching(/^crews "technicians"/)])
  })
})
