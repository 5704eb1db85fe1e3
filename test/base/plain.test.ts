import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isPlainObject, plainCopy } from '../../sim/base/plain.ts'

function copyOf(value: unknown): unknown {
  const plain = plainCopy(value)
  if ('fault' in plain) throw new Error(plain.fault)
  return plain.copy
}

describe('plainCopy', () => {
  it('gives what JSON gives', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), value => {
        expect(JSON.stringify(copyOf(value))).toBe(JSON.stringify(value))
      }),
    )
  })

  it('shares nothing with the original', () => {
    const value = { route: [{ step: 'a' }] }
    const copy = copyOf(value) as typeof value
    expect(copy).toEqual(value)
    expect(copy.route).not.toBe(value.route)
    expect(copy.route[0]).not.toBe(value.route[0])
  })

  it('leaves out keys that hold undefined, and keeps what is neither list nor object', () => {
    const work = () => 1
    expect(copyOf({ a: undefined, b: work, c: Number.NaN })).toStrictEqual({ b: work, c: Number.NaN })
  })

  it('keeps a key "__proto__" as a key', () => {
    const copy = copyOf(JSON.parse('{"__proto__": 1}')) as object
    expect(Object.keys(copy)).toEqual(['__proto__'])
  })

  it('refuses data that holds itself', () => {
    const value: Record<string, unknown> = {}
    value.self = value
    expect(plainCopy(value)).toEqual({
      fault: 'it is nested more than 40 levels deep (does a part of it hold itself?)',
    })
  })

  it('refuses data without measure', () => {
    let value: unknown = 'x'
    for (let level = 0; level < 30; level++) value = [value, value]
    expect(plainCopy(value)).toEqual({ fault: 'it has more than 1000000 parts' })
  })

  it('lets other errors through', () => {
    const value = Object.defineProperty({}, 'bad', {
      enumerable: true,
      get() {
        throw new Error('no')
      },
    })
    expect(() => plainCopy(value)).toThrow('no')
  })
})

it('isPlainObject tells objects from lists and null', () => {
  expect([{}, [], null, 1].map(isPlainObject)).toEqual([true, false, false, false])
})
