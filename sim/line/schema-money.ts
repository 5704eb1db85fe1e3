import * as z from 'zod'
import { isPlainObject } from '../base/plain.ts'
import {
  type Fault,
  keyed,
  leaf,
  measured,
  name,
  number,
  quantityGauge,
  report,
  type ShapeOf,
  text,
  whole,
} from './schema-parts.ts'
import type { Money, Outlay, Sizing, ToolMoney } from './types-money.ts'

/** The form of the two blocks about money: what things cost, and what may be bought. */

const MOST_MONEY = 1e12
const amount = number(0, MOST_MONEY)
const change = number(-MOST_MONEY, MOST_MONEY)
const share = measured(quantityGauge('share'), { least: 0, most: 1 })
const area = measured(quantityGauge('area'), { least: 0, most: 1e6 })

/** An object whose keys are names, each with a value of the same kind. */
function byName(what: string, value: z.ZodType): z.ZodType {
  return z.record(z.string(), value, { error: what })
}

const toolShape = {
  price: amount,
  installation: amount.optional(),
  upkeep: share.optional(),
  kilowatts: number(0, 1e6).optional(),
  floorArea: area.optional(),
  from: text.optional(),
} satisfies ShapeOf<ToolMoney>

const outlayShape = {
  investment: amount,
  perYear: change.optional(),
  from: text.optional(),
} satisfies ShapeOf<Outlay>

const fasterShape = {
  ...outlayShape,
  shorterBy: measured(quantityGauge('share'), { least: 0.001, most: 1 }),
} satisfies ShapeOf<NonNullable<Money['fasterRepair']>>

const moneyShape = {
  currency: name,
  pricePerWatt: amount.optional(),
  pricePerCell: amount.optional(),
  wafer: amount,
  addedPerWafer: byName('an object such as { "front print": 0.06 }', amount).optional(),
  stops: byName(
    'an object such as { "front print": { "screen change": 60 } }',
    byName('an object such as { "screen change": 60 }', amount),
  ).optional(),
  dummies: byName('an object such as { diffusion: 0.3 }', amount).optional(),
  hoursPerYear: number(1, 8784).optional(),
  discountRate: share.optional(),
  years: whole(1, 50).optional(),
  perKilowattHour: amount.optional(),
  wages: byName('an object such as { technicians: 22 }', amount).optional(),
  tools: byName(
    'an object such as { "front print": { price: 900000 } }',
    keyed('an object such as { price: 900000 }', toolShape),
  ).optional(),
  places: byName('an object such as { magazine: 40 }', amount).optional(),
  carriers: byName('an object such as { cassettes: 120 }', amount).optional(),
  vehicles: byName('an object such as { trolleys: 60000 }', amount).optional(),
  fasterRepair: keyed('an object such as { shorterBy: "25 %", investment: 20000 }', fasterShape).optional(),
  variants: byName(
    'an object such as { "third lane": { investment: 2000000 } }',
    keyed('an object such as { investment: 20000 }', outlayShape),
  ).optional(),
  from: text.optional(),
} satisfies ShapeOf<Money>

export const moneySchema = keyed(
  'an object with currency, a price and the cost of a wafer',
  moneyShape,
).check(context => {
  const { pricePerWatt, pricePerCell } = context.value as Record<string, unknown>
  const fault = onePrice(pricePerWatt !== undefined, pricePerCell !== undefined)
  if (fault) report(context, fault)
})

function onePrice(perWatt: boolean, perCell: boolean): Fault | undefined {
  const expected = 'either pricePerWatt or pricePerCell'
  if (perWatt && perCell) return { expected, found: 'both pricePerWatt and pricePerCell' }
  return perWatt || perCell ? undefined : { expected, found: 'no price of a cell' }
}

/** Least and most of a number of things. */
function span(most: number): z.ZodType {
  return leaf(value => {
    if (Array.isArray(value) && value.length === 2 && value.every(Number.isInteger)) {
      const [least, largest] = value as number[]
      if (least >= 1 && least <= largest && largest <= most) return
    }
    const pair = Array.isArray(value) && value.length === 2 && value.every(Number.isInteger)
    return {
      expected: `the least and the most, whole numbers from 1 to ${most}, as in [1, 4]`,
      ...(pair && { found: `[${value.join(', ')}]` }),
    }
  })
}

const MOST_TOOLS = 200
const MOST_LANES = 50

/** Whole numbers to try, each once, in rising order. */
function toTry(least: number, most: number): z.ZodType {
  return leaf(value => {
    const rises = (one: unknown, i: number, all: readonly unknown[]) =>
      Number.isInteger(one) &&
      (one as number) >= least &&
      (one as number) <= most &&
      (i === 0 || (one as number) > (all[i - 1] as number))
    if (Array.isArray(value) && value.length > 0 && value.every(rises)) return
    return { expected: `a list of whole numbers from ${least} to ${most} that rise, as in [40, 80, 160]` }
  })
}

const sizingShape = {
  tools: byName('an object such as { "front print": [1, 4] }', span(MOST_TOOLS)).optional(),
  lanes: byName('an object such as { "print lines": [2, 6] }', span(MOST_LANES)).optional(),
  buffers: byName('an object such as { magazine: [40, 80, 160] }', toTry(0, 10_000_000)).optional(),
  heads: byName('an object such as { technicians: [1, 2, 3] }', toTry(0, 1000)).optional(),
  floorArea: area.optional(),
  budget: amount.optional(),
  from: text.optional(),
} satisfies ShapeOf<Sizing>

export const sizingSchema = keyed('an object such as { tools: { "front print": [1, 4] } }', sizingShape)

/** Whether a value is a list of names with values; for the checks that come after the form. */
export function entriesOf(value: unknown): readonly (readonly [string, unknown])[] {
  return isPlainObject(value) ? Object.entries(value) : []
}
