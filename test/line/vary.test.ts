import { describe, expect, it } from 'vitest'
import { describeChanges } from '../../sim/line/describe.ts'
import type { Line, Variant } from '../../sim/line/types.ts'
import { applyChanges, applyVariant, describeVariant } from '../../sim/line/vary.ts'
import { valid, wafer } from './lines.ts'

const base = {
  line: 'two lanes',
  notes: ['invented'],
  wafer,
  target: '3000 wafers/h',
  route: [
    { step: 'texture', belt: { spacing: '1 s', transit: '60 s', keepFree: 0 } },
    { buffer: 'store', capacity: 2000 },
    { step: 'diffusion', batch: { load: 500, least: 400, longestWait: '5 min', time: '85 min' } },
    { buffer: 'rack', capacity: 1000 },
    {
      group: 'print',
      lanes: ['north', 'south'],
      each: [
        {
          step: 'front print',
          tools: 3,
          cycle: { lognormal: '2 s', cv: 0.1 },
          stops: [
            { stop: 'screen burst', every: { exponential: '4 h' }, lasts: '10 min' },
            { stop: 'paste', every: '1 h', lasts: '2 min', kind: 'scheduled' },
          ],
        },
      ],
    },
    {
      group: 'test',
      lanes: { east: [{ step: 'tester 1', cycle: '1 s' }], west: [{ step: 'tester 2', cycle: '1 s' }] },
    },
  ],
}

const varied = (variant: Variant): Line => valid({ ...base, variants: { it: variant } })
const itemOf = (line: Line, index: number) => line.route[index] as unknown as Record<string, unknown>

describe('applyVariant', () => {
  it('replaces what it names and nothing else, and leaves the base as it was', () => {
    const line = varied({ store: { capacity: 4000 } })
    const before = JSON.stringify(line)
    const changed = applyVariant(line, 'it')
    expect(changed).toEqual({ ...base, route: base.route.with(1, { buffer: 'store', capacity: 4000 }) })
    expect(JSON.stringify(line)).toBe(before)
  })

  it('finds items in lanes, equal or of their own', () => {
    const changed = applyVariant(varied({ 'front print': { tools: 4 }, 'tester 2': { cycle: '2 s' } }), 'it')
    expect(changed.route[4]).toMatchObject({
      each: [{ step: 'front print', tools: 4, cycle: { lognormal: '2 s' } }],
    })
    expect(changed.route[5]).toMatchObject({ lanes: { east: [{ cycle: '1 s' }], west: [{ cycle: '2 s' }] } })
  })

  it('changes a group and the items in it', () => {
    const changed = applyVariant(
      varied({ print: { lanes: ['north', 'south', 'new'] }, 'front print': { tools: 2 } }),
      'it',
    )
    expect(changed.route[4]).toMatchObject({ lanes: ['north', 'south', 'new'], each: [{ tools: 2 }] })
  })

  it('changes belt, batch and stops key by key', () => {
    const changed = applyVariant(
      varied({
        texture: { belt: { spacing: '0.8 s' } },
        diffusion: { batch: { load: 600, least: null, longestWait: null } },
        'front print': { stops: { 'screen burst': { lasts: '5 min' } } },
      }),
      'it',
    )
    expect(itemOf(changed, 0).belt).toEqual({ spacing: '0.8 s', transit: '60 s', keepFree: 0 })
    expect(itemOf(changed, 2).batch).toEqual({ load: 600, time: '85 min' })
    expect(changed.route[4]).toMatchObject({
      each: [
        {
          stops: [
            { stop: 'screen burst', every: { exponential: '4 h' }, lasts: '5 min' },
            base.route[4].each?.[0].stops[1],
          ],
        },
      ],
    })
  })

  it('replaces distributions as a whole', () => {
    const changed = applyVariant(varied({ 'front print': { cycle: { gamma: '2 s', cv: 0.2 } } }), 'it')
    expect(changed.route[4]).toMatchObject({ each: [{ cycle: { gamma: '2 s', cv: 0.2 } }] })
    expect(JSON.stringify(changed.route[4])).not.toContain('lognormal')
  })

  it('takes away what is null', () => {
    const changed = applyVariant(
      varied({ 'front print': { tools: null, stops: { paste: null } }, line: { target: null } }),
      'it',
    )
    expect(changed).not.toHaveProperty('target')
    expect(JSON.stringify(changed.route[4])).not.toMatch(/tools|paste/)
    expect(JSON.stringify(changed.route[4])).toContain('screen burst')
  })

  it('takes a list of stops as it is', () => {
    const stops = [{ stop: 'new', every: '1 h', lasts: '1 min' }]
    const changed = applyVariant(varied({ texture: { stops } }), 'it')
    expect(itemOf(changed, 0).stops).toEqual(stops)
  })

  it('changes the line itself', () => {
    const changed = applyVariant(
      varied({ line: { feed: { rate: '2500 wafers/h' }, target: '2000 wafers/h' } }),
      'it',
    )
    expect(changed).toMatchObject({ feed: { rate: '2500 wafers/h' }, target: '2000 wafers/h' })
  })

  it('drops the variants', () => {
    expect(applyVariant(varied({}), 'it')).toEqual(base)
  })

  it('throws for a variant that is not there', () => {
    expect(() => applyVariant(varied({}), 'other')).toThrow('the line has no variant "other"')
    expect(() => applyVariant(varied({}), 'toString')).toThrow('the line has no variant "toString"')
  })
})

describe('describeVariant', () => {
  it.each<[Variant, string[]]>([
    [{}, []],
    [{ 'front print': { tools: 4 } }, ['front print: tools 3 -> 4']],
    [{ 'front print': { tools: 3 } }, []],
    [{ 'tester 1': { tools: 2 } }, ['tester 1: tools 1 -> 2']],
    [{ 'tester 1': { tools: 1 } }, []],
    [{ 'front print': { tools: null } }, ['front print: tools 3 -> 1']],
    [{ store: { capacity: 'unlimited' } }, ['store: capacity 2000 -> unlimited']],
    [{ store: { order: 'first in, first out', from: 'guess' } }, []],
    [
      { 'front print': { cycle: { lognormal: '1.8 s', cv: 0.1 } } },
      ['front print: cycle lognormal 2 s -> 1.8 s'],
    ],
    [
      { 'front print': { cycle: { exponential: '2 s' } } },
      ['front print: cycle lognormal 2 s, cv 0.1 -> exponential 2 s'],
    ],
    [{ 'front print': { breakage: '0.1 %' } }, ['front print: breakage none -> 0.1 %']],
    [
      { 'front print': { stops: { 'screen burst': { lasts: '5 min' }, paste: null } } },
      ['front print: stop screen burst lasts 10 min -> 5 min', 'front print: stop paste taken away'],
    ],
    [
      { 'tester 1': { stops: [{ stop: 'probe', every: '8 h', lasts: '10 min' }] } },
      ['tester 1: stop probe added'],
    ],
    [
      { diffusion: { batch: { load: 450, tubes: 2 } } },
      ['diffusion: batch load 500 -> 450', 'diffusion: batch tubes 1 -> 2'],
    ],
    [
      { print: { lanes: ['a', 'b', 'c'], split: 'in turn' } },
      ['print: lanes [north, south] -> [a, b, c]', 'print: split least full -> in turn'],
    ],
    [
      { print: { lanes: { a: [{ step: 'other', cycle: '1 s' }] }, each: null } },
      ['print: lanes [north, south] -> [a]', 'front print: taken away', 'other: added'],
    ],
    [
      { line: { target: '4000 wafers/h', feed: { rate: '4000 wafers/h' } } },
      ['line: target 3000 wafers/h -> 4000 wafers/h', 'line: feed as fast as taken -> rate 4000 wafers/h'],
    ],
    [
      { line: { wafer: { ...wafer, efficiency: { mean: '24 %', sd: '0.2 %' } } } },
      ['line: wafer efficiency mean 23 % -> 24 %'],
    ],
  ])('%j', (variant, words) => {
    expect(describeVariant(varied(variant), 'it')).toEqual(words)
  })
})

it('applyChanges passes over names that the line does not have', () => {
  const line = valid(base)
  expect(applyChanges(line, { nothing: { tools: 9 } })).toEqual(line)
  expect(describeChanges(line, applyChanges(line, { rack: { capacity: 0 } }))).toEqual([
    'rack: capacity 1000 -> 0',
  ])
})

it('describeChanges tells the means of long logs, not their values', () => {
  const lasting = (...minutes: number[]) =>
    valid({
      ...base,
      route: [
        {
          step: 'print',
          cycle: '2 s',
          stops: [{ stop: 'jam', every: '1 h', lasts: { observed: minutes.map(n => `${n} min`) } }],
        },
      ],
    })
  // Means by pencil: (20 + 22 + 24 + 26 + 28 + 30) / 6 = 25 min.
  const long = lasting(20, 22, 24, 26, 28, 30)
  expect(describeChanges(long, lasting(10, 11, 12, 13, 14, 15))).toEqual([
    'print: stop jam lasts observed mean 25 min (6 values) -> mean 12.5 min (6 values)',
  ])
  expect(describeChanges(lasting(1, 2), lasting(2, 4))).toEqual([
    'print: stop jam lasts observed [1 min, 2 min] -> [2 min, 4 min]',
  ])
})
