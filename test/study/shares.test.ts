import { beforeAll, describe, expect, it } from 'vitest'
import { checkLine } from '../../sim/line/check.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import type { RunStudy, StateShares } from '../../sim/study/run-study.ts'

// Expected values follow from the definitions: shares add up, and their means are those of the step.

let study: RunStudy
beforeAll(async () => {
  const { line } = checkLine({
    line: 'shares',
    route: [
      { step: 'first', tools: 2, cycles: [{ exponential: '3 s' }, { exponential: '6 s' }] },
      { buffer: 'between', capacity: 50 },
      {
        group: 'lanes',
        lanes: ['A', 'B'],
        each: [
          {
            step: 'second',
            cycle: { exponential: '4.5 s' },
            stops: [{ stop: 'jam', every: { exponential: '10 min' }, lasts: { exponential: '1 min' } }],
          },
        ],
      },
      { buffer: 'after', capacity: 10 },
      { step: 'third', cycle: '1 s' },
    ],
  })
  if (!line) throw new Error('the line is wrong')
  const options = { days: 0.5, replications: 3, seed: 'shares', drive: 'eager', cap: 3, level: 0.95 } as const
  study = await runStudy(line, { ...options, version: 'test' })
})

describe('states of each tool', () => {
  it('add up to one, and to the states of the step', () => {
    for (const { each, states, tools } of study.steps) {
      expect(each).toHaveLength(tools)
      for (const { shares } of each) {
        expect(Object.values(shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9)
      }
      for (const key of Object.keys(states) as (keyof StateShares)[]) {
        const mean = each.reduce((sum, { shares }) => sum + shares[key], 0) / tools
        expect(mean).toBeCloseTo(states[key].mean, 9)
      }
    }
  })

  it('are named by station, lane by lane, and numbered', () => {
    const names = study.steps.flatMap(({ each }) => each.map(({ station, tool }) => `${station} ${tool}`))
    expect(names).toEqual(['first 1', 'first 2', 'A second 1', 'B second 1', 'third 1'])
  })

  it('tell tools apart that differ', () => {
    const [quick, slow] = study.steps[0].each
    // Both hand over to the same buffer; the quick one is through sooner and waits more often.
    expect(quick.shares.blocked).toBeGreaterThan(slow.shares.blocked)
  })
})

describe('classes of throughput time', () => {
  it('hold all good wafers, in classes of equal width side by side', () => {
    const classes = study.throughputClasses
    expect(classes.reduce((sum, { share }) => sum + share.mean, 0)).toBeCloseTo(1, 9)
    const width = classes[0].to - classes[0].from
    classes.forEach(({ from, to }, index) => {
      expect(to - from).toBeCloseTo(width, 9)
      if (index > 0) expect(from).toBeCloseTo(classes[index - 1].to, 9)
    })
  })

  it('have the median where the study has it', () => {
    const { median } = study.throughputHours
    let below = 0
    for (const { from, to, share } of study.throughputClasses) {
      if (median.mean >= to) below += share.mean
      else if (median.mean > from) below += (share.mean * (median.mean - from)) / (to - from)
    }
    // The mean of three medians is not the median of the mean: a few hundredths apart.
    expect(below).toBeCloseTo(0.5, 1)
  })
})
