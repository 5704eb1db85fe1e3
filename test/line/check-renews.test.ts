import { describe, expect, it } from 'vitest'
import { describeChanges } from '../../sim/line/describe.ts'
import type { Line } from '../../sim/line/types.ts'
import { applyChanges } from '../../sim/line/vary.ts'
import { checked } from '../study/lines.ts'
import { problemsIn, singleWith } from './lines.ts'

const JAM = { stop: 'jam', every: '2 h', lasts: '5 min' }
const withStops = (...stops: object[]) => singleWith({ stops })
const service = (renews: unknown, more: object = {}) => ({
  ...{ stop: 'service', every: '9 h', lasts: '1 h', renews },
  ...more,
})

describe('what a stop renews', () => {
  it('is another stop of the step', () => {
    expect(problemsIn(withStops(JAM, service(['jam'])))).toEqual([])
  })

  it.each([
    ['misspelt', [JAM, service(['jamb'])], 'expected another stop of this step: "jam" (did you mean "jam"?)'],
    ['itself', [JAM, service(['service'])], 'its own clock starts anew in any case'],
    ['twice', [JAM, service(['jam', 'jam'])], 'it is named twice'],
    [
      'after idleness',
      [{ stop: 'warm', afterIdle: '1 h', lasts: '5 min' }, service(['warm'])],
      'that one comes after idleness, and has no clock',
    ],
    ['nothing there', [service(['jam'])], 'expected none: the step has no other stop with a clock'],
    ['no list', [JAM, service('jam')], 'expected a list of names of stops of this step'],
  ])('is refused: %s', (_, stops, text) => {
    expect(problemsIn(withStops(...stops)).join()).toContain(text)
  })

  it('cannot begin at random when what renews it begins with the run', () => {
    const worn = { ...JAM, first: 'at random' }
    expect(problemsIn(withStops(worn, service(['jam']))).join()).toContain(
      'found "at random", expected "service" to have a first of its own, such as "at random" too',
    )
    expect(problemsIn(withStops(worn, service(['jam'], { first: 'at random' })))).toEqual([])
    const spread = { counts: 'calendar time', first: { from: '0 h', to: '9 h' } }
    expect(problemsIn(withStops(worn, service(['jam'], spread)))).toEqual([])
  })
})

describe('a stop that is taken away', () => {
  const spill = { ...JAM, stop: 'spill' }
  const without = (line: Line, ...names: string[]) =>
    applyChanges(line, { print: { stops: Object.fromEntries(names.map(name => [name, null])) } })

  it('is renewed by nothing', () => {
    const line = checked(withStops(JAM, spill, service(['jam', 'spill'])))
    const less = checked(without(line, 'jam'))
    expect(less.route).toMatchObject([{ stops: [{ stop: 'spill' }, { renews: ['spill'] }] }])
    expect(checked(without(line, 'jam', 'spill')).route).not.toMatchObject([{ stops: [{ renews: {} }] }])
  })

  it('is told of in words', () => {
    const line = checked(withStops(JAM, service(['jam'])))
    expect(describeChanges(line, without(line, 'service'))).toEqual(['print: stop service taken away'])
  })
})
