import { describe, expect, it } from 'vitest'
import { describeChanges } from '../../sim/line/describe.ts'
import { curveStudy, type Varied } from '../../sim/study/losses/curve.ts'
import { variedOf } from '../../sim/study/losses/varied.ts'
import { checked, here, optionsOf } from './lines.ts'

const line = checked({
  cap: { wafers: 400 },
  fleets: { trolleys: { number: 2 } },
  route: [
    { step: 'texture', cycle: '5 s' },
    {
      carriers: 'cassettes',
      holds: 20,
      number: 3,
      moved: { takes: '10 min', by: 'trolleys' },
      back: '10 min',
    },
    { step: 'coat', tools: 2, cycle: '4 s' },
    { buffer: 'rack', capacity: 30 },
    { conveyor: 'way', transit: '20 s', capacity: 10 },
    {
      group: 'prints',
      lanes: ['A', 'B'],
      each: [{ step: 'print', cycle: { normal: '6 s', sd: '1 s' } }],
    },
  ],
})
const of = (what: string) => variedOf(line, what) as Varied

describe('numbers of items that a curve goes over', () => {
  it.each([
    ['coat: tools', 'tools', 2, 5, ['coat: tools 2 -> 5']],
    ['rack: capacity', 'wafers', 30, 45, ['rack: capacity 30 -> 45']],
    ['way: capacity', 'wafers', 10, 7, ['way: capacity 10 -> 7']],
    ['cassettes: number', 'carriers', 3, 8, ['cassettes: number 3 -> 8']],
    ['fleet trolleys: number', 'vehicles', 2, 4, ['trolleys: number 2 -> 4']],
    ['cap: wafers', 'wafers', 400, 250, ['line: cap wafers 400 -> 250']],
    ['texture: speed', '% of now', 100, 80, ['texture: cycle 5 s -> 6.25 s']],
  ] as const)('%s', (what, unit, now, value, changes) => {
    const varied = of(what)
    expect([varied.what, varied.unit, varied.now]).toEqual([what, unit, now])
    expect(describeChanges(line, varied.at(value))).toEqual(changes)
  })

  it('are lanes too, and the speed of all steps', () => {
    expect(describeChanges(line, of('prints: lanes').at(3))).toEqual([
      'prints: lanes [A, B] -> [A, B, lane 1]',
    ])
    const slower = describeChanges(line, of('all steps: speed').at(50))
    expect(slower).toContain('texture: cycle 5 s -> 10 s')
    expect(slower).toContain('coat: cycle 4 s -> 8 s')
    expect(slower.every(change => change.includes(': cycle '))).toBe(true)
  })

  it('are named when one is misspelled, or its kind is asked for', () => {
    expect(variedOf(line, 'casettes: number')).toBe(
      'something of the line; did you mean "cassettes: number"?',
    )
    expect(variedOf(line, 'magazine before the print: capacity')).toBe('"rack: capacity" or "way: capacity"')
  })

  // By hand: each carrier of 20 goes round in 20 min and 19 x 4 s, since 20 more wafers stand ready to fill it: 56.4/h each.
  it('make what a pencil says: carriers', async () => {
    const two = checked({
      route: [
        { step: 'a', cycle: '5 s' },
        { carriers: 'cassettes', holds: 20, number: 3, moved: { takes: '10 min' }, back: '10 min' },
        { step: 'b', cycle: '4 s' },
      ],
    })
    const varied = variedOf(two, 'cassettes: number') as Varied
    const { points } = await curveStudy(
      two,
      varied,
      [2, 4, 6],
      optionsOf({ days: 3, replications: 2 }),
      here(),
    )
    const each = (20 * 3600) / 1276
    points.forEach(({ goodPerHour: { low = 0, high = 0 } }, p) => {
      expect(low).toBeLessThan([2, 4, 6][p] * each)
      expect(high).toBeGreaterThan([2, 4, 6][p] * each)
    })
    expect(points.map(({ label, verdict }) => [label, verdict])).toEqual([
      ['2', 'less'],
      ['4', 'more'],
      ['6', 'more'],
    ])
  })
})
