import { buffer, carriers, conveyor, group, line, step, stop } from 'linewright'
import { describe, expect, it } from 'vitest'

const jam = stop({ stop: 'jam', every: { exponential: '2 h' }, lasts: '5 min' })
const texture = step({ step: 'texture', cycle: '1.2 s', stops: [jam] })
const store = buffer({ buffer: 'store', capacity: 40 })

const cycle = '1.2 s'
const once = { share: '3 %', atMost: 1 } as const

// The type check fails where a line below a @ts-expect-error is not marked.
function marked() {
  // @ts-expect-error a unit that is not in the language
  line({ line: 'x', route: [{ step: 'texture', cycle: '1.2 sec' }] })
  // @ts-expect-error a misspelt key
  line({ line: 'x', route: [{ step: 'texture', cycel: cycle }] })
  // @ts-expect-error a key of another kind of item
  line({ line: 'x', route: [{ step: 'texture', cycle, capacity: 3 }] })
  // @ts-expect-error a misspelt key in a lane
  line({ line: 'x', route: [{ group: 'g', lanes: ['a'], each: [{ step: 'fire', cycel: cycle }] }] })
  // @ts-expect-error a misspelt key in a belt
  line({ line: 'x', route: [{ step: 'fire', belt: { spacin: '1 s', transit: '9 s' } }] })
  // @ts-expect-error rework to a step that is not there
  line({ line: 'x', route: [{ step: 'print', cycle, rework: { ...once, to: 'prnt' } }] })
  // @ts-expect-error a variant of an item that is not there
  line({ line: 'x', route: [texture], variants: { more: { textre: { tools: 2 } } } })
  // @ts-expect-error a variant of a key that is not there
  line({ line: 'x', route: [texture], variants: { more: { texture: { tolls: 2 } } } })
  // @ts-expect-error a variant of a key of the line that cannot be varied
  line({ line: 'x', route: [texture], variants: { more: { line: { route: [] } } } })
  // @ts-expect-error a cap until a step that is not there
  line({ line: 'x', cap: { wafers: 9, until: 'txture' }, route: [texture] })
  const dip = { event: 'dip', every: '9 d', lasts: '1 h' } as const
  // @ts-expect-error an event at a step that is not there
  line({ line: 'x', events: [{ ...dip, steps: ['txture'] }], route: [texture] })
  const late = { atMost: '4 h', late: { to: 'texture', atMost: 1 } } as const
  // @ts-expect-error a time limit after a step that is not there
  line({ line: 'x', route: [texture, { step: 'etch', cycle, timeLimits: [{ ...late, after: 'txture' }] }] })
  const lost = { after: 'texture', atMost: '4 h', late: { to: 'txture', atMost: 1 } } as const
  // @ts-expect-error late wafers sent to a step that is not there
  line({ line: 'x', route: [texture, { step: 'etch', cycle, timeLimits: [lost] }] })
  // @ts-expect-error a time of day without minutes
  stop({ stop: 'check', at: ['6'], lasts: '5 min' })
  // @ts-expect-error a misspelt key of carriers
  line({ line: 'x', route: [texture, { carriers: 'c', hold: 9, number: 9, moved: { takes: '1 s' } }] })
  // @ts-expect-error a misspelt key in a step kept apart
  step({ step: 'texture', cycle, tolls: 3 })
  const back = step({ step: 'test', cycle, rework: { ...once, to: 'txture' } })
  // @ts-expect-error a step kept apart that sends wafers back to one that is not there
  line({ line: 'x', route: [texture, back] })
  // @ts-expect-error a bare number where a unit is needed
  stop({ stop: 'jam', every: '2 h', lasts: 5 })
}

describe('line', () => {
  it('returns what it is given', () => {
    const value = { line: 'x', route: [texture, store, { step: 'print', cycle: '2 s' }] } as const
    expect(line(value)).toBe(value)
  })

  it('takes parts kept apart, lanes and variants', () => {
    const made = line({
      line: 'x',
      route: [
        texture,
        store,
        { step: 'clean', cycle: '1 s' },
        { buffer: 'rack', capacity: 9 },
        { group: 'print', lanes: ['north', 'south'], each: [{ step: 'front print', cycle: '2 s' }] },
      ],
      variants: {
        slower: {
          clean: { tools: 2 },
          'front print': { cycle: '2.2 s' },
          store: { capacity: 10 },
          line: { target: '3000 wafers/h' },
        },
      },
    })
    expect(made.route).toHaveLength(5)
    expect(made.variants?.slower.store).toEqual({ capacity: 10 })
  })

  it('takes a step kept apart that sends wafers back to another', () => {
    const test = step({ step: 'test', cycle: '1 s', rework: { share: '1 %', to: 'texture', atMost: 1 } })
    const lanes = group({
      group: 'print',
      lanes: ['a'],
      each: [{ step: 'p', cycle: '1 s', rework: { share: '1 %', to: 'texture', atMost: 1 } }],
    })
    const belt = conveyor({ conveyor: 'link', transit: '20 s', capacity: 10 })
    expect(line({ line: 'x', route: [texture, belt, lanes, test] }).route).toHaveLength(4)
  })

  it('takes carriers, limits, events and a cap', () => {
    const cassettes = carriers({ carriers: 'cassettes', holds: 100, number: 40, moved: { takes: '2 min' } })
    const etch = step({
      step: 'etch',
      cycle: '1 s',
      timeLimits: [{ after: 'texture', atMost: '4 h', late: { to: 'texture', atMost: 1 } }],
    })
    const made = line({
      line: 'x',
      cap: { wafers: 500, until: 'etch' },
      events: [{ event: 'dip', every: '90 d', lasts: '1 h', steps: ['texture', 'etch'] }],
      route: [texture, cassettes, etch],
      variants: { fewer: { cassettes: { number: 20 }, line: { cap: { wafers: 400 } } } },
    })
    expect(made.route).toHaveLength(3)
  })

  it('takes names made at run time', () => {
    const route = [1, 2].map(number => step({ step: `tool ${number}`, cycle: '1 s' }))
    expect(line({ line: 'x', route, variants: { a: { 'tool 1': { tools: 2 } } } }).route).toHaveLength(2)
  })

  it('is marked where it is wrong', () => {
    expect(marked).toBeTypeOf('function')
  })
})
