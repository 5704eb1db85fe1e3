import { describe, expect, it } from 'vitest'
import { compareDesigns } from '../../sim/study/compare/compare.ts'
import { checked, here, optionsOf, rowOf } from './lines.ts'

const design = (name: string, cycle: object | string) => ({
  name,
  line: checked({ route: [{ step: 'tool', cycle }] }),
})

/** How often its intervals cover a known difference: test/published/study-coverage.ts. */
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
})
