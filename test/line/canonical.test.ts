import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { canonicalText, stableText } from '../../sim/line/canonical.ts'
import type { Line } from '../../sim/line/types.ts'
import { routeOf, singleWith, valid } from './lines.ts'

/** The same data with the keys of every object in another order. */
function shuffled(value: unknown, flip: boolean): unknown {
  if (Array.isArray(value)) return value.map(part => shuffled(part, flip))
  if (typeof value !== 'object' || value === null) return value
  const entries = Object.entries(value).map(([key, part]) => [key, shuffled(part, flip)] as const)
  return Object.fromEntries(flip ? entries.reverse() : entries)
}

describe('canonicalText', () => {
  it('is JSON with sorted keys and without blanks', () => {
    const line = valid(singleWith({ tools: 2 }))
    expect(canonicalText(line)).toBe(
      '{"line":"test line","route":[{"cycle":"2 s","step":"print","tools":2}]}',
    )
  })

  it('does not depend on the order of keys, nor on keys that hold undefined', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), value => {
        expect(stableText(shuffled(value, true))).toBe(stableText(value))
        expect(stableText({ ...value, ' gone': undefined })).toBe(stableText(value))
      }),
    )
  })

  it('tells different data apart', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (one, other) => {
        if (stableText(one) === stableText(other))
          expect(shuffled(one, false)).toEqual(shuffled(other, false))
      }),
    )
    const with2 = canonicalText(valid(singleWith({ tools: 2 })))
    expect(with2).not.toBe(canonicalText(valid(singleWith({ tools: 3 }))))
  })

  it('keeps the order of lanes, which decides ties, and of the route', () => {
    const lane = (step: string) => [{ step, cycle: '1 s' }]
    const text = (lanes: object) => canonicalText(valid(routeOf({ group: 'g', lanes })))
    expect(text({ a: lane('x'), b: lane('y') })).not.toBe(text({ b: lane('y'), a: lane('x') }))
    const [one, other] = [lane('x'), lane('y')].map(([step]) => step)
    const route = (...steps: unknown[]) => canonicalText(routeOf(...steps) as unknown as Line)
    expect(route(one, other)).not.toBe(route(other, one))
  })
})
