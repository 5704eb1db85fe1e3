import * as z from 'zod'
import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { foundText, quoted, wordList } from '../base/problems.ts'
import {
  formatNumber,
  formatQuantity,
  parseQuantity,
  parseSignedQuantity,
  quantityWanted,
} from '../base/quantity.ts'
import type { Dimension } from '../base/units.ts'

/**
 * What all schemas are made of. The message of every issue is the `expected` text of a
 * problem; `params` carries the rest (see issues.ts), so that no text of the schema
 * library reaches a person.
 */

/** What is wrong with a value. `found` is given where the value itself does not show it. */
export interface Fault {
  readonly expected: string
  readonly found?: string
  readonly hint?: string
}

/** A schema for every key of a type of the language: the compiler sees when one is forgotten. */
export type ShapeOf<T> = { readonly [key in keyof T]-?: z.ZodType }

/** Bounds of a number, both allowed. */
export interface Range {
  readonly least: number
  readonly most: number
}

const NO_LIMIT: Range = { least: -Infinity, most: Infinity }

/** Puts a fault of the value at hand, or of a part of it, on the list. */
export function report(
  context: { readonly value: unknown; readonly issues: z.core.$ZodRawIssue[] },
  fault: Fault,
  path?: PropertyKey[],
): void {
  context.issues.push({
    code: 'custom',
    input: context.value,
    message: fault.expected,
    params: { ...fault },
    ...(path ? { path } : {}),
  })
}

/** A value that a function judges. */
export function leaf(judge: (value: unknown) => Fault | undefined): z.ZodType {
  return z.unknown().check(context => {
    const fault = judge(context.value)
    if (fault) report(context, fault)
  })
}

/**
 * A value whose schema depends on the value. Only the schema chosen reports, so a
 * misspelt key gives one problem and not one for each kind of thing it could have been.
 */
export function choose(pick: (value: unknown) => z.ZodType | Fault): z.ZodType {
  return z.unknown().check(context => {
    const chosen = pick(context.value)
    if (!(chosen instanceof z.ZodType)) return report(context, chosen)
    const result = chosen.safeParse(context.value)
    for (const issue of result.error?.issues ?? [])
      context.issues.push({ ...issue, input: undefined } as z.core.$ZodRawIssue)
  })
}

/** An object with these keys and no others. For unknown keys the message lists the keys there are. */
export function keyed(what: string, shape: Readonly<Record<string, z.ZodType>>): z.ZodObject {
  return z.strictObject(shape, {
    error: issue => (issue.code === 'unrecognized_keys' ? Object.keys(shape).join(', ') : what),
  })
}

export function listOf(what: string, element: z.ZodType): z.ZodArray {
  return z.array(element, { error: what })
}

/** An object with a name of the person's own for each value. */
export function namedMap(what: string, element: z.ZodType): z.ZodType {
  return z.unknown().check(context => {
    const { value } = context
    if (!isPlainObject(value)) return report(context, { expected: what })
    for (const [key, part] of Object.entries(value)) {
      const fault = judgeName(key)
      if (fault) report(context, { found: quoted(key), expected: fault.expected })
      for (const issue of element.safeParse(part).error?.issues ?? [])
        context.issues.push({ ...issue, path: [key, ...issue.path], input: undefined } as z.core.$ZodRawIssue)
    }
  })
}

/** Free text, at least one letter. */
export const text = leaf(value =>
  typeof value === 'string' && value.trim() !== '' ? undefined : { expected: 'a text' },
)

/** A name: one line, without blanks at its ends. */
export const name = leaf(judgeName)

export function judgeName(value: unknown): Fault | undefined {
  if (typeof value !== 'string' || value.trim() === '') return { expected: 'a name' }
  if (value !== value.trim()) return { expected: 'a name without blanks at its ends' }
  // Names stand in table columns and in the names of random streams.
  if (/\p{C}/u.test(value)) return { expected: 'a name on one line, of visible characters' }
  return value.length > 80 ? { expected: 'a name of at most 80 characters' } : undefined
}

/** One of a few fixed words. */
export function oneWord(...words: readonly string[]): z.ZodType {
  const expected = wordList(
    words.map(word => JSON.stringify(word)),
    'or',
  )
  return leaf(value => {
    if (words.includes(value as string)) return
    const near = typeof value === 'string' ? nearest(value, words) : undefined
    return { expected, ...(near === undefined ? {} : { hint: `did you mean "${near}"?` }) }
  })
}

/** A measure: how to read one value of it, and how to say it. */
export interface Gauge {
  /** What to write: `a time such as "3 s" (units: …)`. */
  readonly wanted: string
  /** The same in short, for bounds: `a time`. */
  readonly short: string
  /** Example of a value, as it stands in a file. */
  readonly example: string
  read(value: unknown): number | Fault
  format(value: number): string
}

export function quantityGauge(dimension: Dimension): Gauge {
  const wanted = quantityWanted(dimension)
  return {
    wanted,
    short: wanted.split(' such as ')[0],
    example: /"[^"]*"/.exec(wanted)?.[0] ?? '',
    read(value) {
      if (typeof value === 'number') return { expected: wanted, hint: 'its unit is missing' }
      if (typeof value !== 'string') return { expected: wanted }
      const read = parseQuantity(dimension, value)
      return typeof read === 'number' ? read : { expected: wanted, hint: read }
    },
    format: value => formatQuantity(dimension, value),
  }
}

/** A quantity that may be below zero. */
export function signedGauge(dimension: Dimension): Gauge {
  const gauge = quantityGauge(dimension)
  return {
    ...gauge,
    read(value) {
      if (typeof value !== 'string') return gauge.read(value)
      const read = parseSignedQuantity(dimension, value)
      return typeof read === 'number' ? read : { expected: gauge.wanted, hint: read }
    },
  }
}

/** Bare numbers of something: `a number of wafers`. */
export function countGauge(of: string): Gauge {
  const wanted = `a number of ${of}`
  return {
    wanted,
    short: wanted,
    example: '500',
    read(value) {
      if (typeof value === 'number' && Number.isFinite(value)) return value
      return { expected: wanted, ...(isFigures(value) ? { hint: 'write it without quotes' } : {}) }
    },
    format: formatNumber,
  }
}

/** A value of a measure within bounds. */
export function measured(gauge: Gauge, range: Range = NO_LIMIT): z.ZodType {
  return leaf(value => judgeMeasure(gauge, range, value))
}

export function judgeMeasure(gauge: Gauge, { least, most }: Range, value: unknown): Fault | undefined {
  const read = gauge.read(value)
  if (typeof read !== 'number') return read
  if (read >= least && read <= most) return
  return {
    expected:
      most === Infinity
        ? `${gauge.short} of at least ${gauge.format(least)}`
        : `${gauge.short} from ${gauge.format(least)} to ${gauge.format(most)}`,
  }
}

/** A whole number within bounds. */
export function whole(least: number, most: number): z.ZodType {
  return numeric(`a whole number from ${least} to ${most}`, { least, most }, Number.isInteger)
}

/** A number within bounds. */
export function number(least: number, most: number): z.ZodType {
  return numeric(`a number from ${least} to ${most}`, { least, most }, Number.isFinite)
}

function numeric(expected: string, { least, most }: Range, accepts: (value: unknown) => boolean): z.ZodType {
  return leaf(value => {
    if (accepts(value) && (value as number) >= least && (value as number) <= most) return
    return { expected, ...(isFigures(value) ? { hint: 'write it without quotes' } : {}) }
  })
}

function isFigures(value: unknown): boolean {
  return typeof value === 'string' && /^\d+(\.\d+)?$/.test(value)
}

/** Which of the keys an object has; exactly one is wanted. */
export function oneKey(
  value: Readonly<Record<string, unknown>>,
  keys: readonly string[],
  what = '',
): string | Fault {
  const present = keys.filter(key => Object.hasOwn(value, key))
  if (present.length === 1) return present[0]
  const expected = `${what}exactly one of the keys ${wordList(keys, 'and')}`
  if (present.length > 1) return { expected, found: wordList(present, 'and') }
  for (const key of Object.keys(value)) {
    const near = nearest(key, keys)
    if (near !== undefined)
      return { expected, found: foundText(value), hint: `did you mean "${near}" instead of "${key}"?` }
  }
  return { expected, found: foundText(value) }
}
