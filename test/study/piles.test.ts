import { describe, expect, it } from 'vitest'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

const step = (name: string, seconds: number, more: object = {}) => ({
  ...{ step: name, cycle: { normal: `${seconds} s`, sd: `${seconds / 20} s` } },
  ...more,
})
const buffer = (name: string, capacity: number) => ({ buffer: name, capacity })

/** Wafers an hour that pile up behind each step, rounded; steps behind which none do are left out. */
async function piles(route: readonly object[], days = 1, replications = 3): Promise<Record<string, number>> {
  const { steps } = await runStudy(checked({ route }), { ...optionsOf({ days, replications }), cap: 5 })
  return Object.fromEntries(
    steps.flatMap(({ name, pilesUpPerHour: piled }) =>
      piled ? [[name, Math.round(piled.mean / 10) * 10]] : [],
    ),
  )
}

describe('what piles up behind a step', () => {
  it('is what it hands on and those behind it do not take', async () => {
    // 1,200 an hour against 900, and all of it lies in the store.
    expect(await piles([step('etch', 3), buffer('store', 50_000), step('print', 4)])).toEqual({ etch: 300 })
    // Of every step before the store, and not of those behind it.
    const three = [
      step('wash', 3),
      buffer('rack', 5),
      step('etch', 2),
      buffer('store', 50_000),
      step('print', 4),
    ]
    expect(await piles(three)).toEqual({ wash: 300, etch: 300 })
  })

  it('is of its own lane, whichever lane stands first', async () => {
    const slow = [step('slow', 9), buffer('slow store', 50_000), step('slow test', 12)]
    const fast = [step('fast', 3), buffer('fast store', 20), step('fast test', 2)]
    for (const lanes of [
      { slow, fast },
      { fast, slow },
    ])
      expect(await piles([{ group: 'lanes', split: 'in turn', lanes }])).toEqual({ slow: 100 })
  })

  it('is nothing where a store is full early on', async () => {
    expect(await piles([step('etch', 3), buffer('store', 2000), step('print', 4)])).toEqual({})
  })

  it('nor what is left of a load, or of one long stop that the next step makes up for', async () => {
    const tube = { step: 'tube', batch: { load: 800, time: '3 h' } }
    expect(await piles([buffer('rack', 800), tube, buffer('store', 4000), step('print', 3)])).toEqual({})
    const stops = [{ stop: 'fault', every: '13 h', lasts: '5 h' }]
    const late = [step('laser', 8), buffer('store', 50_000), step('test', 5, { stops })]
    expect(await piles(late)).toEqual({})
  })
})

describe('all that a feed brings', () => {
  const allTaken = async (route: readonly object[], feed?: object) => {
    const line = checked({ route, ...(feed && { feed }) })
    return (await runStudy(line, { ...optionsOf({ days: 1, replications: 3 }), cap: 5 })).allOfFeedPerHour
  }

  it('is told where it is taken', async () => {
    expect(await allTaken([step('print', 8)], { rate: '430 wafers/h' })).toBeCloseTo(430, 9)
  })

  it('and not where wafers stay outside, pile up inside, or come as fast as they are taken', async () => {
    expect(await allTaken([step('print', 8)], { rate: '600 wafers/h' })).toBeUndefined()
    const piling = [step('laser', 3), buffer('store', 50_000), step('print', 8)]
    expect(await allTaken(piling, { rate: '600 wafers/h' })).toBeUndefined()
    expect(await allTaken([step('print', 8)])).toBeUndefined()
  })
})
