import type * as z from 'zod'
import { isPlainObject } from '../base/plain.ts'
import {
  choose,
  countGauge,
  type Fault,
  type Gauge,
  judgeMeasure,
  keyed,
  leaf,
  measured,
  number,
  oneKey,
  quantityGauge,
  type Range,
  report,
} from './schema-parts.ts'

/** Least values by how they are given: fixed, in a list of values, or as the mean of a law. */
interface Bounds {
  readonly fixed: number
  readonly listed: number
  readonly mean: number
  readonly most: number
}

/** The clock counts microseconds: nothing shorter can be told from nothing [s]. */
export const TICK = 1e-6
/** Hundred years, well within what the clock can count [s]. */
export const LONGEST = 3.1536e9

const LAWS = [
  'exponential',
  'lognormal',
  'gamma',
  'weibull',
  'normal',
  'triangular',
  'uniform',
  'geometric',
  'observed',
  'replayed',
] as const
type LawName = (typeof LAWS)[number]

const TIME = quantityGauge('time')

/** Time to work on a wafer or a load: never nothing. */
export const workingTime = spread(TIME, { fixed: TICK, listed: TICK, mean: TICK, most: LONGEST })
/** Time from one event to the next: nothing now and then, never always. */
export const interval = spread(TIME, { fixed: TICK, listed: 0, mean: TICK, most: LONGEST })
/** Time that something takes: may be nothing. */
export const lastingTime = spread(TIME, { fixed: 0, listed: 0, mean: TICK, most: LONGEST })

/** A number of wafers or loads, one at least. */
export function countSpread(of: string): z.ZodType {
  return spread(countGauge(of), { fixed: 1, listed: 1, mean: 1, most: 1e12 }, Number.isInteger)
}

/** A fixed value or a distribution. Fixed and listed values must be `acceptable` besides. */
function spread(
  gauge: Gauge,
  bounds: Bounds,
  acceptable: (value: number) => boolean = () => true,
): z.ZodType {
  const laws = new Map<LawName, z.ZodType>()
  const fixed = valueLeaf(gauge, { least: bounds.fixed, most: bounds.most }, acceptable)
  const listed = valueLeaf(gauge, { least: bounds.listed, most: bounds.most }, acceptable)
  return choose(value => {
    if (!isPlainObject(value)) {
      const plain = typeof value === 'string' || typeof value === 'number'
      return plain
        ? fixed
        : { expected: `${gauge.wanted}, or a distribution such as { exponential: ${gauge.example} }` }
    }
    const key = oneKey(value, LAWS, 'a distribution, by ')
    if (typeof key !== 'string') return key
    const known = laws.get(key as LawName) ?? lawSchema(key as LawName, gauge, bounds, listed)
    laws.set(key as LawName, known)
    return known
  })
}

function valueLeaf(gauge: Gauge, range: Range, acceptable: (value: number) => boolean): z.ZodType {
  return leaf(value => {
    const fault = judgeMeasure(gauge, range, value)
    if (fault) return fault
    return acceptable(gauge.read(value) as number)
      ? undefined
      : { expected: `${gauge.wanted.replace('a number', 'a whole number')}` }
  })
}

function lawSchema(law: LawName, gauge: Gauge, bounds: Bounds, listed: z.ZodType): z.ZodType {
  const mean = measured(gauge, { least: bounds.mean, most: bounds.most })
  const value = measured(gauge, { least: 0, most: bounds.most })
  const object = (shape: Record<string, z.ZodType>) =>
    keyed(`a distribution with ${Object.keys(shape).join(', ')}`, shape)
  switch (law) {
    case 'exponential':
      return object({ exponential: mean })
    case 'lognormal':
      return object({ lognormal: mean, cv: number(0, 10) })
    case 'gamma':
      return object({ gamma: mean, cv: number(0, 10) })
    case 'weibull':
      return object({ weibull: mean, shape: number(0.1, 1000) })
    case 'normal':
      return withCheck(
        object({ normal: mean, sd: value, least: value.optional(), most: value.optional() }),
        given => judgeCut(gauge, given),
      )
    case 'triangular':
      return object({ triangular: rising(gauge, bounds, ['least', 'most likely', 'largest']) })
    case 'uniform':
      return object({ uniform: rising(gauge, bounds, ['smallest', 'largest']) })
    case 'geometric':
      return withCheck(object({ geometric: mean, step: mean.optional() }), given =>
        judgeGeometric(gauge, given),
      )
    default:
      return object({ [law]: values(gauge, listed, bounds) })
  }
}

/** Adds a judgement over several keys, made only when each key by itself is right. */
function withCheck(
  schema: z.ZodType,
  judge: (value: Readonly<Record<string, unknown>>) => Fault | undefined,
): z.ZodType {
  return schema.check(context => {
    const fault = judge(context.value as Readonly<Record<string, unknown>>)
    if (fault) report(context, fault)
  })
}

/** Two or three values, each not below the one before, the last above the first. */
function rising(gauge: Gauge, bounds: Bounds, order: readonly string[]): z.ZodType {
  const expected = `${order.length === 2 ? 'two' : 'three'} values in rising order: ${order.join(', ')}`
  const element = measured(gauge, { least: 0, most: bounds.most })
  const inOrder = withCheck(element.array(), given => {
    const read = (given as unknown as readonly unknown[]).map(value => gauge.read(value) as number)
    const last = read[read.length - 1]
    const rises = last > read[0] && read.every((value, index) => index === 0 || value >= read[index - 1])
    if (!rises) return { expected, found: JSON.stringify(given) }
    if (last < bounds.mean) return { expected: `a largest value of at least ${gauge.format(bounds.mean)}` }
  })
  return choose(given => (Array.isArray(given) && given.length === order.length ? inOrder : { expected }))
}

/** One value or more; not all of them nothing where that would stop the clock. */
function values(gauge: Gauge, listed: z.ZodType, bounds: Bounds): z.ZodType {
  const notAllZero = withCheck(listed.array(), given => {
    const sum = (given as unknown as readonly unknown[]).reduce<number>(
      (total, value) => total + (gauge.read(value) as number),
      0,
    )
    if (sum === 0 && bounds.fixed > 0) return { expected: `at least one value above ${gauge.format(0)}` }
  })
  return choose(given =>
    Array.isArray(given) && given.length > 0
      ? notAllZero
      : { expected: `a list of values, each ${gauge.wanted}` },
  )
}

/** The cut must leave something of the law: six standard deviations hold all but two in a thousand million. */
function judgeCut(gauge: Gauge, given: Readonly<Record<string, unknown>>): Fault | undefined {
  const read = (key: string, absent: number) =>
    given[key] === undefined ? absent : (gauge.read(given[key]) as number)
  const [mean, sd, least, most] = [read('normal', 0), read('sd', 0), read('least', 0), read('most', Infinity)]
  if (least >= most)
    return {
      expected: '"least" below "most"',
      found: `least ${gauge.format(least)}, most ${gauge.format(most)}`,
    }
  if (least > mean + 6 * sd || most < mean - 6 * sd)
    return {
      expected: 'a cut that leaves something of the law',
      found: `mean ${gauge.format(mean)}, sd ${gauge.format(sd)}`,
    }
}

function judgeGeometric(gauge: Gauge, given: Readonly<Record<string, unknown>>): Fault | undefined {
  const mean = gauge.read(given.geometric) as number
  const step = given.step === undefined ? 1 : (gauge.read(given.step) as number)
  if (mean >= step) return
  const hint = given.step === undefined ? `the step is ${gauge.format(1)} unless given` : undefined
  return {
    expected: `a mean of at least one step, ${gauge.format(step)}`,
    found: gauge.format(mean),
    ...(hint ? { hint } : {}),
  }
}
