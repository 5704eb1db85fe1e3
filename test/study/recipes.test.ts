import { describe, expect, it } from 'vitest'
import { constraintStudy } from '../../sim/study/constraint/constraint.ts'
import { lossesStudy } from '../../sim/study/losses/losses.ts'
import { checked, here, optionsOf } from './lines.ts'

const day = optionsOf({ days: 1, replications: 2 })
const between = (step: object) =>
  checked({
    route: [
      { step: 'before', cycle: '1 s' },
      { buffer: 'store', capacity: 20 },
      { step: 'slow', ...step },
      { buffer: 'rack', capacity: 40 },
      { step: 'after', cycle: '3 s' },
    ],
  })

const TOOL = {
  cycle: '2 s',
  breakage: '0 %',
  recipes: { careful: { cycle: '4 s', breakage: '10 %', reject: '5 %' } },
  recipe: 'careful',
}
const BELT = {
  belt: { length: '6 m', pitch: '0.2 m', speed: '6 m/min' },
  recipes: { careful: { belt: { speed: '3 m/min' }, breakage: '10 %' } },
  recipe: 'careful',
}

describe('a step that runs by a recipe', () => {
  // By hand: the recipe starts one wafer in 4 s, 900/h, of which 0.9 x 0.95 are good: 769.5/h.
  // A tenth faster 990/h, 846.5 good: 76.95 more. A belt: 0.2 m at 3 m/min is one in 4 s, 0.9 of them
  // good: 810/h, and 81 more. The others could do 3,600/h and 1,200/h. Breakage of 21,600 wafers a day
  // scatters by 44, so two days by 1.3/h.
  it.each([
    ['a tool', TOOL, 76.95],
    ['a belt', BELT, 81],
  ])('holds the line by what the recipe says: %s', async (_name, step, gain) => {
    const { held, steps } = await constraintStudy(between(step), day, here())
    expect(held).toEqual({ by: 'one step', steps: ['slow'] })
    expect(Math.abs(steps[1].gainPerHour.mean - gain)).toBeLessThan(5)
  })

  // By hand, of 21,600 starts a day: without breakage 0.95 good for 0.9 x 0.95, 2,052 more;
  // without rejects 0.9, 972 more; on the belt 2,160 more. Four times the scatter of two days, 31, is 124.
  it.each([
    ['a tool', TOOL, { breakage: 2052, reject: 972 }],
    ['a belt', BELT, { breakage: 2160 }],
  ])('loses what the recipe makes it lose: %s', async (_name, step, expected) => {
    const { losses } = await lossesStudy(between(step), day, here())
    const shares = losses.filter(({ kind }) => kind !== 'buffers')
    expect(shares.map(({ kind }) => kind)).toEqual(Object.keys(expected))
    Object.values(expected).forEach((cells, i) => {
      expect(Math.abs(shares[i].goodPerDay.mean - cells)).toBeLessThan(124)
    })
  })
})
