import { describe, expect, it } from 'vitest'
import { constraintStudy } from '../../sim/study/constraint/constraint.ts'
import { here, optionsOf, rowOf } from './lines.ts'

describe('constraint', () => {
  it('is the slowest of fixed times, and is so all the time', async () => {
    const line = rowOf(5, { cycle: '2 s' }, { cycle: '3 s' }, { cycle: '2 s' })
    const study = await constraintStudy(line, optionsOf({ replications: 2 }), here())
    expect(study.held).toEqual({ by: 'one step', steps: ['step 2'] })
    expect(study.verdict).toBe('"step 2" holds the line.')
    const [first, second] = study.steps
    expect(second.staticPerHour).toBeCloseTo(1200, 9)
    expect(second.momentaryShare.mean).toBeCloseTo(1, 6)
    // 10 % faster: 2.727 s, still the slowest.
    expect(second.gainPerHour.mean).toBeCloseTo(120, 0)
    expect(first.gainPerHour.mean).toBeCloseTo(0, 0)
    expect(second.states.productive.mean).toBeCloseTo(1, 6)
  })

  it('is nobody when two fixed times are equal: one alone gains nothing', async () => {
    const line = rowOf(5, { cycle: '3 s' }, { cycle: '3 s' })
    const study = await constraintStudy(line, optionsOf({ replications: 2 }), here())
    expect(study.held).toEqual({ by: 'no step shown', steps: [] })
    expect(study.verdict).toBe('No single step is shown to hold the line.')
  })

  // Balanced lines of exponential times: the middle matters most (Hillier & Boling 1966, the bowl; from memory).
  it('is the middle of a balanced line, shared with nobody but its neighbours', async () => {
    const tool = { cycle: { exponential: '3 s' } }
    const line = rowOf(1, tool, tool, tool)
    const study = await constraintStudy(line, optionsOf({ days: 0.5, replications: 6 }), here())
    const gains = study.steps.map(({ gainPerHour }) => gainPerHour.mean)
    expect(gains[1]).toBeGreaterThan(gains[0])
    expect(gains[1]).toBeGreaterThan(gains[2])
    expect(study.held.steps[0]).toBe('step 2')
    expect(study.shiftsPerDay.mean).toBeGreaterThan(100)
  })

  // A line and its reverse have the same throughput (Muth 1979; from memory), so a step gains the same in both.
  it('is the same step of the line run backwards', async () => {
    const tools = [1.6, 2, 1.5].map(mean => ({ cycle: { exponential: `${mean} s` } }))
    const options = optionsOf({ days: 0.25, replications: 6 })
    const forward = await constraintStudy(rowOf(3, ...tools), options, here())
    const backward = await constraintStudy(rowOf(3, ...tools.toReversed()), options, here())
    expect(forward.held.steps[0]).toBe('step 2')
    expect(backward.held.steps[0]).toBe('step 2')
    for (const [s, { gainPerHour }] of forward.steps.entries()) {
      const { low = NaN, high = NaN } = backward.steps[2 - s].gainPerHour
      expect(gainPerHour.low).toBeLessThanOrEqual(high)
      expect(gainPerHour.high).toBeGreaterThanOrEqual(low)
    }
  })
})
