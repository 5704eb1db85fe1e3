import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import { stopsOf } from '../../sim/study/designs/worst-stops.ts'
import { causesOf } from '../../sim/study/losses/causes.ts'
import { lossesStudy } from '../../sim/study/losses/losses.ts'
import { arbitraryLine } from '../line/arbitrary-line.ts'
import { checked, here, optionsOf } from './lines.ts'

/** What holds a line besides its tools, on lines without chance: counted by hand, cells a day. */
async function lossesOf(value: object): Promise<Record<string, number>> {
  const study = await lossesStudy(checked(value), optionsOf({ days: 1, replications: 2 }), here())
  return Object.fromEntries(study.losses.map(({ kind, goodPerDay }) => [kind, Math.round(goodPerDay.mean)]))
}

describe('what losses takes away', () => {
  it('leaves a line that could have been written so', () => {
    fc.assert(
      fc.property(arbitraryLine, value => {
        const { line } = checkLine(value)
        if (!line) throw new Error('not a line')
        const { variants: _none, ...rest } = line
        for (const { name, without } of causesOf(rest as Line, stopsOf(rest as Line), 1)) {
          const said = checkLine(without(rest as Line)).problems.map(problemText)
          expect([name, said]).toEqual([name, []])
        }
      }),
      { numRuns: 8 },
    )
  })

  it.each([
    [
      'in a row',
      [
        { buffer: 'a', capacity: 10 },
        { buffer: 'b', capacity: 10 },
      ],
    ],
    [
      'in lanes',
      [
        {
          ...{ group: 'lanes', split: 'in turn', lanes: ['A', 'B'] },
          each: [
            { buffer: 'a', capacity: 3 },
            { buffer: 'b', capacity: 10 },
            { step: 'clean', cycle: '10 s' },
          ],
        },
      ],
    ],
  ])('leaves buffers %s that a feed without a pace fills', async (_, buffers) => {
    const losses = await lossesOf({ route: [...buffers, { step: 'print', cycle: '10 s' }] })
    expect(losses).toEqual({})
  })
})

describe('what holds the line besides its tools', () => {
  // By hand: 1,000 an hour come, 1,800 an hour could be made.
  it.each([
    ['a buffer with an end', 10],
    ['one without', 'unlimited'],
  ])('is the feed, before %s', async (_, capacity) => {
    const route = [
      { buffer: 'store', capacity },
      { step: 'print', cycle: '2 s' },
    ]
    const { feed, buffers } = await lossesOf({ feed: { every: '3.6 s' }, route })
    expect(feed).toBeGreaterThan(24 * 800 - 20)
    expect(feed).toBeLessThan(24 * 800 + 20)
    expect(buffers ?? 0).toBe(0)
  })

  // By hand: each of two carriers is away for 4 min and is filled in 60 s and emptied in 60 s: 20 wafers in 6 min, 4,800 a day of 14,400.
  it('are carriers', async () => {
    const { carriers } = await lossesOf({
      route: [
        { step: 'first', cycle: '6 s' },
        { carriers: 'boxes', holds: 10, number: 2, moved: { takes: '2 min' }, back: '2 min' },
        { step: 'second', cycle: '6 s' },
      ],
    })
    expect(carriers).toBeGreaterThan(8000)
    expect(carriers).toBeLessThan(9700)
  })

  // By hand: a boat is 10 min with its load and cools for 10 min: three loads of 100 an hour, of six.
  it('are boats', async () => {
    const { boats } = await lossesOf({
      route: [
        { buffer: 'store', capacity: 200 },
        {
          step: 'furnace',
          batch: { load: 100, time: '10 min', boats: { perTool: 1, cooling: '10 min' } },
        },
      ],
    })
    expect(boats).toBeGreaterThan(7200 - 101)
    expect(boats).toBeLessThan(7200 + 101)
  })

  // By hand: two wafers in a line that each goes through in 15 s, of one every 5 s.
  it('are caps', async () => {
    const { caps } = await lossesOf({
      cap: { wafers: 2 },
      route: [
        { step: 'first', cycle: '5 s' },
        { buffer: 'store', capacity: 10 },
        { step: 'second', cycle: '5 s' },
        { buffer: 'stack', capacity: 10 },
        { step: 'third', cycle: '5 s' },
      ],
    })
    expect(caps).toBeGreaterThan(86_400 / 15 - 10)
    expect(caps).toBeLessThan(86_400 / 15 + 10)
  })

  // By hand: lanes of 600 and 300 an hour make the 900 of their nameplates whatever their buffers hold.
  it('is no buffer of lanes that each hold enough', async () => {
    const lane = (name: string, cycle: string) => [
      { buffer: `store ${name}`, capacity: 10 },
      { step: name, cycle },
    ]
    const { buffers } = await lossesOf({
      route: [
        { step: 'before', cycle: '4 s' },
        { group: 'lanes', lanes: { A: lane('fast', '6 s'), B: lane('slow', '12 s') } },
        { buffer: 'stack', capacity: 10 },
        { step: 'after', cycle: '3 s' },
      ],
    })
    expect(Math.abs(buffers)).toBeLessThan(30)
  })
})
