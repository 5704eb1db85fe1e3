import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  formatNumber,
  formatQuantity,
  parseQuantity,
  parseSignedQuantity,
  quantity,
  quantityWanted,
  signedQuantity,
} from '../../sim/base/quantity.ts'
import { type Dimension, UNITS } from '../../sim/base/units.ts'

const DIMENSIONS = Object.keys(UNITS) as Dimension[]

describe('parseQuantity', () => {
  it.each<[Dimension, string, number]>([
    ['time', '1.2 s', 1.2],
    ['time', '85 min', 5100],
    ['time', '250 ms', 0.25],
    ['time', '1e3 s', 1000],
    ['time', '.5 h', 1800],
    ['time', '2. d', 172800],
    ['time', '0 s', 0],
    ['share', '0.04 %', 0.0004],
    ['share', '7 %', 0.07],
    ['share', '400 ppm', 0.0004],
    ['rate', '7200 wafers/h', 2],
    ['rate', '60 wafers/min', 1],
    ['length', '182 mm', 0.182],
    ['speed', '6 m/min', 0.1],
    ['area', '330 cm2', 0.033],
  ])('reads a %s: %s', (dimension, text, value) => {
    expect(parseQuantity(dimension, text)).toBe(value)
  })

  it.each<[Dimension, string, string]>([
    ['time', '', 'it is empty'],
    ['time', '   ', 'it is empty'],
    ['time', '1.2', 'its unit is missing'],
    ['time', '1.2 ', 'its unit is missing'],
    ['time', 's', 'its number is missing'],
    ['time', 'soon', 'it is not a number with a unit'],
    ['time', '1.2s', 'put a blank before the unit: "1.2 s"'],
    ['rate', '7200wafers/h', 'put a blank before the unit: "7200 wafers/h"'],
    ['time', '1  s', 'write one blank between number and unit, and none elsewhere'],
    ['time', ' 1 s', 'write one blank between number and unit, and none elsewhere'],
    ['time', '1 s ', 'write one blank between number and unit, and none elsewhere'],
    ['time', '1\ts', 'write one blank between number and unit, and none elsewhere'],
    ['time', '1 h 30 min', 'write one number and one unit'],
    ['time', '1 200 s', 'write the number without blanks in it'],
    ['time', '1,200 s', 'write "1,200" with a point for decimals and nothing between thousands'],
    ['time', '1,5 s', 'write "1,5" with a point for decimals and nothing between thousands'],
    ['time', '1_000 s', 'write "1_000" with a point for decimals and nothing between thousands'],
    ['time', "1'000 s", 'write "1\'000" with a point for decimals and nothing between thousands'],
    ['time', '+1 s', 'write 1 without the sign'],
    ['time', '-1 s', 'it must not be below zero'],
    ['time', '0x10 s', '"0x10" is not a decimal number'],
    ['time', 'NaN s', '"NaN" is not a decimal number'],
    ['time', 'Infinity s', '"Infinity" is not a decimal number'],
    ['time', '1.2.3 s', '"1.2.3" is not a decimal number'],
    ['time', '1e400 s', '1e400 is too large'],
    ['time', '0.3 %', '"%" is a unit of share, not of time'],
    ['speed', '6 m', '"m" is a unit of length, not of speed'],
    ['time', '5 mins', '"mins" is not a unit of time; did you mean "min"?'],
    ['time', '5 Min', '"Min" is not a unit of time; did you mean "min"?'],
    ['rate', '7200 wafer/h', '"wafer/h" is not a unit of rate; did you mean "wafers/h"?'],
    ['time', '2 hr', '"hr" is not a unit of time; did you mean "h"?'],
    ['time', '60 Minutes', '"Minutes" is not a unit of time; did you mean "min"?'],
    ['rate', '3300 wafer/h', '"wafer/h" is not a unit of rate; did you mean "wafers/h"?'],
    ['length', '60 minutes', '"minutes" is not a unit of length'],
    // One-letter units are near to everything short, so none is offered.
    ['time', '2 x', '"x" is not a unit of time'],
    ['time', '2 toString', '"toString" is not a unit of time'],
  ])('says what is wrong with a %s of "%s"', (dimension, text, fault) => {
    expect(parseQuantity(dimension, text)).toBe(fault)
  })

  it('reads zero with a sign as zero', () => {
    expect(parseQuantity('time', '-0 s')).toBe(0)
  })

  it('never throws and gives finite numbers of zero or more', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DIMENSIONS),
        fc.oneof(
          fc.string(),
          fc.string({ unit: fc.constantFrom(...'0123456789.,-+ eshdmin%/'), maxLength: 8 }),
        ),
        (dimension, text) => {
          const value = parseQuantity(dimension, text)
          if (typeof value === 'number') return Number.isFinite(value) && value >= 0
          return value.length > 0
        },
      ),
    )
  })
})

describe('quantity', () => {
  it('gives the number of a valid text', () => {
    expect(quantity('time', '1.5 min')).toBe(90)
  })

  it('throws for any other', () => {
    expect(() => quantity('time', '5 %')).toThrow('"5 %" is not a time: "%" is a unit of share, not of time')
  })
})

describe('formatQuantity', () => {
  it.each<[Dimension, number, string]>([
    ['time', 0, '0 s'],
    ['time', 1e-6, '0.001 ms'],
    ['time', 0.25, '0.25 s'],
    ['time', 90, '90 s'],
    ['time', 5100, '85 min'],
    ['time', 7200, '2 h'],
    ['time', 864000, '10 d'],
    ['share', 0, '0 %'],
    ['share', 0.0004, '0.04 %'],
    ['share', 4e-5, '40 ppm'],
    ['share', 1, '100 %'],
    ['rate', 2, '7200 wafers/h'],
    ['rate', 12345.67 / 3600, '12346 wafers/h'],
    ['length', 0.182, '182 mm'],
    ['length', 6.6, '6.6 m'],
    ['speed', 0.1, '6 m/min'],
    ['area', 0.033015, '330.15 cm2'],
  ])('writes a %s of %d as %s', (dimension, value, text) => {
    expect(formatQuantity(dimension, value)).toBe(text)
  })

  it('writes what parseQuantity reads, to five digits', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DIMENSIONS),
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        (dimension, value) => {
          const read = parseQuantity(dimension, formatQuantity(dimension, value))
          expect(Math.abs((read as number) - value)).toBeLessThanOrEqual(5.001e-5 * value)
        },
      ),
    )
  })
})

it('formatNumber keeps five digits, and all before the point', () => {
  expect([1 / 3, 4464, 123456.7, 0].map(formatNumber)).toEqual(['0.33333', '4464', '123457', '0'])
})

it('quantityWanted gives an example that is one, and the units', () => {
  expect(quantityWanted('time')).toBe('a time such as "3 s" (units: ms, s, min, h, d)')
  for (const dimension of DIMENSIONS) {
    const example = /"([^"]*)"/.exec(quantityWanted(dimension))?.[1] ?? ''
    expect(parseQuantity(dimension, example)).toBeTypeOf('number')
  }
})

describe('a quantity that may be below zero', () => {
  it('is read with its sign', () => {
    expect(parseSignedQuantity('share', '-0.05 %')).toBe(-0.0005)
    expect(parseSignedQuantity('share', '0.05 %')).toBe(0.0005)
    expect(signedQuantity('share', '-0 %')).toBe(0)
    expect(parseQuantity('share', '-0.05 %')).toBe('it must not be below zero')
  })

  it('has its other faults told', () => {
    expect(parseSignedQuantity('share', '-0.05')).toBe(parseQuantity('share', '-0.05'))
    expect(() => signedQuantity('share', '-0.05 s')).toThrow('is not a share')
  })
})
