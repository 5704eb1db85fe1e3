import { describe, expect, it } from 'vitest'
import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Item, Line } from '../../sim/line/types.ts'

function warningsOf(way: Item, more: Partial<Line> = {}): string[] {
  const line = { line: 'x', ...more, route: [{ step: 'a', cycle: '5 s' }, way, { step: 'b', cycle: '4 s' }] }
  const { problems, warnings } = checkLine(line)
  expect(problems).toEqual([])
  return warnings.map(problemText).filter(text => text.includes('at most'))
}

/** By hand: the first step makes 720/h. */
describe('what stays too long on the way, without a target', () => {
  const cassettes = (number: number): Item => ({
    ...{ carriers: 'cassettes', holds: 20, number },
    moved: { takes: { uniform: ['8 min', '12 min'] } },
    back: '10 min',
  })

  it('is told of carriers: 20 wafers each in 20 min are 60/h', () => {
    expect(warningsOf(cassettes(3))).toEqual([
      'route[1] "cassettes" → number: found 3 carriers, 20 min there and back, expected enough for what the tools could make, 720 wafers/h (they bring at most 180 wafers/h)',
    ])
    expect(warningsOf(cassettes(12))).toEqual([])
  })

  it('is told of conveyors: 10 places in 100 s are 360/h', () => {
    const way = (capacity: number): Item => ({ conveyor: 'way', transit: '100 s', capacity })
    expect(warningsOf(way(10))).toEqual([
      'route[1] "way" → capacity: found 10 places for "100 s" each, expected room for what the tools could make, 720 wafers/h (it passes at most 360 wafers/h)',
    ])
    expect(warningsOf(way(20))).toEqual([])
    // Fed with half of that nobody needs more.
    expect(warningsOf(way(10), { feed: { every: '10 s' } })).toEqual([])
  })

  it('is told of each of several lanes by what it has to carry', () => {
    const lanes: Item = {
      group: 'lanes',
      lanes: ['A', 'B'],
      each: [
        { buffer: 'rack', capacity: 5 },
        { step: 'print', cycle: '4 s' },
        { conveyor: 'way', transit: '100 s', capacity: 10 },
      ],
    }
    expect(warningsOf(lanes)).toEqual([])
  })
})
