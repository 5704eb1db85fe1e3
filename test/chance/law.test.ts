import { describe, expect, it } from 'vitest'
import { toLaw } from '../../sim/chance/law.ts'
import type { Spread } from '../../sim/chance/spec.ts'

/** A quantity of the tests: minutes as text. */
const seconds = (text: string) => 60 * Number.parseFloat(text)
const law = (spread: Spread<string>) => toLaw(spread, seconds, 1)
const count = (spread: Spread<number>) => toLaw(spread, wafers => wafers, 1)

describe('toLaw', () => {
  it.each<[Spread<string>, object]>([
    ['2 min', { kind: 'fixed', value: 120 }],
    [{ exponential: '3 min' }, { kind: 'exponential', mean: 180 }],
    [
      { lognormal: '1 min', cv: 0.5 },
      { kind: 'lognormal', mean: 60, cv: 0.5 },
    ],
    [
      { gamma: '1 min', cv: 0.5 },
      { kind: 'gamma', mean: 60, cv: 0.5 },
    ],
    [
      { weibull: '1 min', shape: 2 },
      { kind: 'weibull', mean: 60, shape: 2 },
    ],
    [{ triangular: ['1 min', '2 min', '4 min'] }, { kind: 'triangular', least: 60, mode: 120, most: 240 }],
    [{ uniform: ['1 min', '2 min'] }, { kind: 'uniform', least: 60, most: 120 }],
    [{ geometric: '5 min' }, { kind: 'geometric', mean: 300, step: 1 }],
    [
      { geometric: '5 min', step: '1 min' },
      { kind: 'geometric', mean: 300, step: 60 },
    ],
    [{ observed: ['2 min', '1 min'] }, { kind: 'observed', values: [120, 60] }],
    [{ replayed: ['2 min', '1 min'] }, { kind: 'replayed', values: [120, 60] }],
  ])('reads %j', (spread, expected) => expect(law(spread)).toEqual(expected))

  it('cuts a normal law at 0 unless told otherwise', () => {
    const uncut = { kind: 'normal', mean: 60, sd: 12 }
    expect(law({ normal: '1 min', sd: '0.2 min' })).toEqual({ ...uncut, least: 0, most: Infinity })
    expect(law({ normal: '1 min', sd: '0.2 min', least: '0.5 min', most: '2 min' })).toEqual({
      ...uncut,
      least: 30,
      most: 120,
    })
  })

  it('reads counts as they are', () => {
    expect(count(25)).toEqual({ kind: 'fixed', value: 25 })
    expect(count({ geometric: 500 })).toEqual({ kind: 'geometric', mean: 500, step: 1 })
  })

  it('makes a spread of nothing the fixed value', () => {
    expect(law({ lognormal: '1 min', cv: 0 })).toEqual({ kind: 'fixed', value: 60 })
    expect(law({ gamma: '1 min', cv: 0 })).toEqual({ kind: 'fixed', value: 60 })
    expect(law({ normal: '1 min', sd: '0 min' })).toEqual({ kind: 'fixed', value: 60 })
    expect(law({ normal: '1 min', sd: '0 min', least: '2 min' })).toEqual({ kind: 'fixed', value: 120 })
  })

  it('is plain data that survives JSON but for an infinite end', () => {
    const gamma = law({ gamma: '1 min', cv: 0.5 })
    expect(JSON.parse(JSON.stringify(gamma))).toEqual(gamma)
  })
})
