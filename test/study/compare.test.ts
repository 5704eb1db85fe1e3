import { describe, expect, it } from 'vitest'
import { FINE_BLOCKS } from '../../sim/engine/blocks.ts'
import { pairedDifference } from '../../sim/stats/paired.ts'
import { compareDesigns } from '../../sim/study/compare/compare.ts'
import type { Course } from '../../sim/study/designs/course.ts'
import { simulate } from '../../sim/study/designs/designs.ts'
import { checked, here, optionsOf, rowOf } from './lines.ts'

const design = (name: string, cycle: object | string) => ({
  name,
  line: checked({ route: [{ step: 'tool', cycle }] }),
})

describe('compare', () => {
  it('tells what fixed cycle times make, to the wafer', async () => {
    const slow = { name: 'slow', line: rowOf(10, { cycle: '3 s' }, { cycle: '4 s' }) }
    const fast = { name: 'fast', line: rowOf(20, { cycle: '3 s' }, { cycle: '3 s' }) }
    const same = { name: 'same', line: rowOf(20, { cycle: '3 s' }, { cycle: '3 s' }) }
    const study = await compareDesigns([slow, fast, same], optionsOf(), here())
    expect(study.designs.map(({ goodPerHour }) => Math.round(goodPerHour.mean))).toEqual([900, 1200, 1200])
    expect(study.pairs.map(({ first, second, verdict }) => [first, second, verdict])).toEqual([
      ['slow', 'fast', 'more'],
      ['slow', 'same', 'more'],
      ['fast', 'same', 'no difference shown'],
    ])
    expect(study.best).toEqual(['fast', 'same'])
    expect(study.pairs[0].changes).toEqual(['store 1: capacity 10 -> 20', 'step 2: cycle 4 s -> 3 s'])
    expect(study.pairs[2].changes).toEqual([])
  })

  it('widens the intervals with the number of pairs', async () => {
    const designs = ['3 s', '2.9 s', '2.8 s'].map(mean => design(mean, { exponential: mean }))
    const two = await compareDesigns(designs.slice(0, 2), optionsOf(), here())
    const three = await compareDesigns(designs, optionsOf(), here())
    expect(two.pairLevel).toBe(0.95)
    expect(three.pairLevel).toBeCloseTo(1 - 0.05 / 3, 12)
    expect(three.plan?.replications).toBeGreaterThanOrEqual(4)
  })

  // A tool that never waits makes 3600 / mean wafers an hour in the long run, by theory of renewals. With exponential
  // times what it makes in one stretch of time does not depend on the stretch before.
  it('has intervals that cover a known difference as often as they say', async () => {
    const designs = [design('slow', { exponential: '3 s' }), design('fast', { exponential: '2.5 s' })]
    const courses = await simulate(designs, optionsOf({ days: 5, replications: 2 }), here())
    const [slow, fast] = courses.map(replications => replications.flatMap(madeInEachBlock))
    const hours = (5 * 24) / FINE_BLOCKS
    const known = (3600 / 2.5 - 3600 / 3) * hours
    const [repeats, size] = [200, 5]
    let covered = 0
    for (let from = 0; from < repeats * size; from += size) {
      const part = (values: readonly number[]) => values.slice(from, from + size)
      const { low = NaN, high = NaN } = pairedDifference(part(fast), part(slow), 0.95)
      if (low <= known && known <= high) covered++
    }
    // Three binomial standard deviations about 0.95.
    const slack = 3 * Math.sqrt((0.95 * 0.05) / repeats)
    expect(covered / repeats).toBeGreaterThanOrEqual(0.95 - slack)
    expect(covered / repeats).toBeLessThanOrEqual(0.95 + slack)
  })
})

function madeInEachBlock({ line }: Course): number[] {
  return Array.from({ length: FINE_BLOCKS }, (_, b) => line.good[b + 1] - line.good[b])
}
