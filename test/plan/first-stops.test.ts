import { describe, expect, it } from 'vitest'
import type { Route, Stop } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import { TICKS_PER_SECOND } from '../../sim/plan/plan.ts'
import { withLanes, withTools } from '../../sim/study/designs/changes.ts'
import { valid } from '../line/lines.ts'

// When stops are first due follows from the rule of the language: from + (i - 1) (to - from) / n for tool i of n.

const stopsFrom = (first: Stop['first']): Pick<Stop, never> => ({
  stops: [{ stop: 'clean', counts: 'calendar time', every: '12 h', first, lasts: '5 min' }],
})

const lineOf = (...route: unknown[]) => valid({ line: 'test line', route: route as unknown as Route })

/** Hours at which the stop of each tool is first due, station by station. */
function hours(line: ReturnType<typeof lineOf>): number[][] {
  return compile(line).stations.flatMap(station =>
    'stops' in station && station.stops.length > 0
      ? [(station.stops[0].first ?? []).map(tick => tick / TICKS_PER_SECOND / 3600)]
      : [],
  )
}

const span = { from: '2 h', to: '14 h' } as const

describe('first stops over a span', () => {
  it.each([
    [1, [2]],
    [2, [2, 8]],
    [3, [2, 6, 10]],
    [4, [2, 5, 8, 11]],
  ])('of %i tools', (tools, expected) => {
    expect(hours(lineOf({ step: 'print', tools, cycle: '2 s', ...stopsFrom(span) }))).toEqual([expected])
  })

  it('may begin at the start of the run', () => {
    const first = { from: '0 h', to: '12 h' } as const
    expect(hours(lineOf({ step: 'print', tools: 2, cycle: '2 s', ...stopsFrom(first) }))).toEqual([[0, 6]])
  })

  it('go on from lane to lane, in lanes within lanes too', () => {
    const print = { step: 'print', tools: 2, cycle: '2 s', ...stopsFrom(span) }
    const lanes = { group: 'lanes', lanes: ['A', 'B'], each: [print] }
    expect(hours(lineOf(lanes))).toEqual([
      [2, 5],
      [8, 11],
    ])
    const single = { ...print, tools: 1 }
    const inner = { group: 'lanes', lanes: ['A', 'B'], each: [single] }
    const outer = { group: 'halls', lanes: { north: [inner], south: [{ step: 'other', cycle: '2 s' }] } }
    expect(hours(lineOf(outer))).toEqual([[2], [8]])
    const twice = { group: 'halls', lanes: ['north', 'south'], each: [inner] }
    expect(hours(lineOf(twice))).toEqual([[2], [5], [8], [11]])
  })

  it('count each tube as a tool', () => {
    const store = { buffer: 'store', capacity: 10 }
    const batch = { load: 10, time: '10 min', tubes: 2 }
    expect(hours(lineOf(store, { step: 'tube', tools: 2, batch, ...stopsFrom(span) }))).toEqual([
      [2, 5, 8, 11],
    ])
  })

  it('keep to the rule when a study adds tools or lanes', () => {
    const print = { step: 'print', tools: 2, cycle: '2 s', ...stopsFrom(span) }
    const line = lineOf(print)
    expect(hours(valid(withTools(line, print as never, 3)))).toEqual([[2, 6, 10]])
    const group = { group: 'lanes', lanes: ['A', 'B'], each: [{ ...print, tools: 1 }] }
    expect(hours(valid(withLanes(lineOf(group), group as never, 3)))).toEqual([[2], [6], [10]])
  })
})

describe('first stops in a list', () => {
  const print = { step: 'print', tools: 2, cycle: '2 s', ...stopsFrom(['1 h', '7 h']) }

  it('are those of each tool; the tubes of a tool have the same', () => {
    expect(hours(lineOf(print))).toEqual([[1, 7]])
    const tube = { step: 'tube', tools: 2, batch: { load: 10, time: '10 min', tubes: 2 } }
    expect(hours(lineOf({ buffer: 'b', capacity: 10 }, { ...tube, ...stopsFrom(['1 h', '7 h']) }))).toEqual([
      [1, 1, 7, 7],
    ])
  })

  it('grow by more like the last when a study adds tools, and lose the last', () => {
    expect(hours(valid(withTools(lineOf(print), print as never, 4)))).toEqual([[1, 7, 7, 7]])
    expect(hours(valid(withTools(lineOf(print), print as never, 1)))).toEqual([[1]])
  })
})
