import { describe, expect, it } from 'vitest'
import { canonicalText } from '../../sim/line/canonical.ts'
import type { Variant } from '../../sim/line/types.ts'
import { applyVariant, describeVariant } from '../../sim/line/vary.ts'
import { problemsIn, valid } from './lines.ts'

/** Variants of crews, fleets, events, carriers, boats and recipes, and what is said of them. */

const base = {
  line: 'two steps',
  crews: {
    operators: { heads: { day: 3, night: 2 }, reach: '1 min' },
    smiths: { heads: 1 },
  },
  fleets: { vans: { number: 2, reach: '2 min' } },
  calendar: { shifts: { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } } },
  events: [
    { event: 'power dip', every: '60 d', lasts: '1 h' },
    { event: 'water', every: '90 d', lasts: '2 h' },
  ],
  cap: { wafers: 5000 },
  route: [
    { buffer: 'store', capacity: 1000 },
    {
      step: 'tube',
      batch: { load: 500, time: '1 h', boats: { perTool: 2, cooling: '10 min' } },
      stops: [{ stop: 'jam', every: '5 h', lasts: '10 min', skill: 'operators' }],
    },
    { carriers: 'cassettes', holds: 100, number: 40, moved: { takes: '3 min', by: 'vans', perTrip: 4 } },
    { step: 'print', cycle: '2 s', recipes: { fast: { cycle: '1.8 s' } } },
  ],
}
const lineWith = (variant: Variant) => valid({ ...base, variants: { it: variant } })
const applied = (variant: Variant) => applyVariant(lineWith(variant), 'it')
const described = (variant: Variant) => describeVariant(lineWith(variant), 'it')
const problemsOf = (variant: unknown) => problemsIn({ ...base, variants: { it: variant } })

describe('a variant of the line', () => {
  it('changes crews by their names, key by key', () => {
    const variant = { line: { crews: { operators: { heads: { day: 4, night: 2 } } } } }
    expect(applied(variant).crews).toEqual({
      operators: { heads: { day: 4, night: 2 }, reach: '1 min' },
      smiths: { heads: 1 },
    })
    expect(described(variant)).toEqual(['operators: heads day 3 -> 4'])
    expect(described({ line: { crews: { smiths: { heads: 2, reach: '5 min' } } } })).toEqual([
      'smiths: heads 1 -> 2',
      'smiths: reach none -> 5 min',
    ])
  })

  it('adds a crew, takes one away', () => {
    const variant = { line: { crews: { smiths: null, helpers: { heads: 2 } } } }
    expect(Object.keys(applied(variant).crews ?? {})).toEqual(['operators', 'helpers'])
    expect(described(variant)).toEqual(['smiths: taken away', 'helpers: added'])
  })

  it('changes fleets, events and the cap', () => {
    const variant = {
      line: {
        fleets: { vans: { number: 3 } },
        events: { 'power dip': { lasts: '2 h' }, water: null },
        cap: { wafers: 4000 },
      },
    }
    expect(applied(variant)).toMatchObject({
      fleets: { vans: { number: 3, reach: '2 min' } },
      events: [{ event: 'power dip', every: '60 d', lasts: '2 h' }],
    })
    expect(applied(variant).events).toHaveLength(1)
    expect(described(variant)).toEqual([
      'line: cap wafers 5000 -> 4000',
      'vans: number 2 -> 3',
      'power dip: lasts 1 h -> 2 h',
      'water: taken away',
    ])
  })

  it('takes a calendar, or any part, away', () => {
    expect(applied({ line: { cap: null } })).not.toHaveProperty('cap')
    expect(described({ line: { events: null } })).toEqual(['power dip: taken away', 'water: taken away'])
  })

  it.each<[unknown, string[]]>([
    [
      { line: { crews: { operater: { heads: 4 } } } },
      [
        'variants "it" → "line" → crews → "operater": found an unknown name, expected "operators" or "smiths" (did you mean "operators"?)',
      ],
    ],
    [
      { line: { crews: { operators: { head: 4 } }, fleets: { trucks: null } } },
      [
        'variants "it" → "line" → crews → "operators" → head: found an unknown key, expected one of heads, skills, reach, from (did you mean "heads"?)',
        'variants "it" → "line" → fleets → "trucks": found an unknown name, expected "vans"',
      ],
    ],
    [
      { line: { events: { fire: { lasts: '2 h' } } } },
      [
        'variants "it" → "line" → events → "fire": found an unknown name, expected "power dip" or "water" (to add an event, give all events as a list)',
      ],
    ],
    // The line that a variant makes is checked as a whole.
    [
      { line: { crews: { operators: null } } },
      [
        'variants "it" → route[1] "tube" → stops[0] "jam" → skill: found "operators", expected a skill of a crew: "smiths"',
      ],
    ],
    [
      { line: { crews: { helpers: {} } } },
      ['variants "it" → crews → helpers → heads: found nothing, expected a whole number from 0 to 1000'],
    ],
    [
      { print: { recipe: 'fats' } },
      ['variants "it" → route[3] "print" → recipe: found "fats", expected "fast" (did you mean "fast"?)'],
    ],
  ])('%#', (variant, texts) => {
    expect(problemsOf(variant)).toEqual(texts)
  })
})

describe('a variant of an item', () => {
  it('picks a recipe', () => {
    expect(described({ print: { recipe: 'fast' } })).toEqual(['print: recipe none -> fast'])
  })

  it('changes the boats of a tool and the way of carriers key by key', () => {
    const variant = {
      tube: { batch: { boats: { perTool: 3 } } },
      cassettes: { number: 60, moved: { perTrip: 8 } },
    }
    const changed = applied(variant)
    expect(changed.route[1]).toMatchObject({ batch: { load: 500, boats: { perTool: 3, cooling: '10 min' } } })
    expect(changed.route[2]).toMatchObject({ number: 60, moved: { takes: '3 min', by: 'vans', perTrip: 8 } })
    expect(described(variant)).toEqual([
      'tube: batch boats perTool 2 -> 3',
      'cassettes: number 40 -> 60',
      'cassettes: moved perTrip 4 -> 8',
    ])
  })

  it('lets people serve a stop', () => {
    expect(described({ tube: { stops: { jam: { people: 2, skill: 'smiths' } } } })).toEqual([
      'tube: stop jam skill operators -> smiths',
      'tube: stop jam people 1 -> 2',
    ])
  })
})

describe('the canonical text', () => {
  it('tells crews in another order apart, and nothing else', () => {
    const line = valid(base)
    const { operators, smiths } = base.crews
    expect(canonicalText(valid({ ...base, crews: { smiths, operators } }))).not.toBe(canonicalText(line))
    const { calendar, ...rest } = base
    expect(canonicalText(valid({ calendar, ...rest }))).toBe(canonicalText(line))
  })
})
