import { describe, expect, it } from 'vitest'
import { changesNamed, unnamedOf } from '../../sim/study/payback/only.ts'
import { type PricedLine, paybackStudy } from '../../sim/study/payback/payback.ts'
import { checked, here, optionsOf } from './lines.ts'

/** Which changes `--only` takes: by hand, from the names of the line. */

const jam = { stop: 'jam', every: { exponential: '2 h' }, lasts: '4 min' }
const seldom = (stop: string) => ({ stop, every: { exponential: '90 d' }, lasts: '1 min' })

const line = checked({
  crews: { fitters: { heads: 2 } },
  route: [
    { step: 'print', cycle: '4 s', stops: [jam, ...['a', 'b', 'c', 'd', 'e', 'rare'].map(seldom)] },
    { buffer: 'Store', capacity: 10 },
    { buffer: 'slot', capacity: 0 },
    { step: 'fine print', cycle: '3 s', stops: [{ ...jam, skill: 'fitters' }] },
    { group: 'hall', lanes: ['left', 'right'], each: [{ step: 'test', tools: 2, cycle: '9 s' }] },
  ],
  money: { currency: 'EUR', pricePerCell: 1, wafer: 0.5, tools: { print: { price: 400_000 } } },
  variants: { 'faster print': { print: { cycle: '3.5 s' } } },
}) as PricedLine

const names = (...texts: string[]) => changesNamed(line, line.money, texts).map(({ name }) => name)

describe('only some changes', () => {
  it.each([
    ['print: tools', ['one more tool of print']],
    ['PRINT: Tools', ['one more tool of print']],
    ['one more tool of print', ['one more tool of print']],
    ['store: capacity', ['Store for 20 wafers']],
    ['hall: lanes', ['one more lane of hall']],
    ['crew fitters: heads', ['one more head in fitters']],
    ['fitters: heads', ['one more head in fitters']],
    ['stop jam: lasts', ['jam at print shorter by 25 %', 'jam at fine print shorter by 25 %']],
    ['print: stop jam: lasts', ['jam at print shorter by 25 %']],
    ['faster print', ['faster print']],
    ['variant faster print', ['faster print']],
  ])('takes what is called %j, and nothing else', (text, found) => {
    expect(names(text)).toEqual(found)
  })

  it('takes all that have the text in a name where nothing is called so', () => {
    expect(names('jam')).toEqual(['jam at print shorter by 25 %', 'jam at fine print shorter by 25 %'])
    expect(names('fine')).toEqual(['one more tool of fine print', 'jam at fine print shorter by 25 %'])
    expect(names('for 20')).toEqual(['Store for 20 wafers'])
  })

  it('takes what any of several texts names, once', () => {
    expect(names('jam', 'print: tools', 'stop jam: lasts')).toEqual([
      'one more tool of print',
      'jam at print shorter by 25 %',
      'jam at fine print shorter by 25 %',
    ])
  })

  it('says which text names nothing, and what there is', () => {
    expect(unnamedOf(line, line.money, ['print', 'jam'])).toBeUndefined()
    // A buffer without places is a direct slot: it has no next size.
    expect(unnamedOf(line, line.money, ['print', 'slot'])?.text).toBe('slot')
    const { near, known } = unnamedOf(line, line.money, ['stop jum: lasts']) ?? {}
    expect(near).toBe('stop jam: lasts')
    expect(known?.map(([first]) => first)).toEqual([
      'print: tools',
      'hall: lanes',
      'Store: capacity',
      'crew fitters: heads',
      'stop jam: lasts',
      'variant faster print',
    ])
    expect(known?.flat().filter(name => name === 'stop jam: lasts')).toHaveLength(1)
    expect(unnamedOf(line, line.money, ['fitter'])?.near).toBeUndefined()
    expect(unnamedOf(line, line.money, ['fiters'])?.near).toBe('fitters')
  })

  it('are tried alone, and in pairs of their own', async () => {
    const options = optionsOf({ days: 0.2, replications: 2 })
    const one = await paybackStudy(line, options, here(), ['print: tools'])
    expect(one.only).toEqual(['print: tools'])
    expect(one.changes.map(({ name }) => name)).toEqual(['one more tool of print'])
    expect([one.pairs, one.changeLevel]).toEqual([[], 0.95])
    const two = await paybackStudy(line, options, here(), ['print: tools', 'test: tools'])
    expect(two.pairs.map(({ first, second }) => [first, second].sort())).toEqual([
      two.changes.map(({ name }) => name).sort(),
    ])
    // The same design on the same random streams: only the level of its interval differs.
    const [again] = two.changes.filter(({ kind, name }) => kind === 'tool' && name.includes('print'))
    expect(again.gainPerHour.mean).toBe(one.changes[0].gainPerHour.mean)
  })

  it('may be stops that are none of those that take most time', async () => {
    const options = optionsOf({ days: 0.2, replications: 2 })
    const { changes } = await paybackStudy(line, options, here(), ['stop rare: lasts'])
    expect(changes.map(({ name }) => name)).toEqual(['rare at print shorter by 25 %'])
  })
})
