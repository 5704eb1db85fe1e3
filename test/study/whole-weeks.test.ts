import { describe, expect, it } from 'vitest'
import type { Line } from '../../sim/line/types.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { wholeCut } from '../../sim/study/warm-up.ts'

const options = { seed: 'weeks', drive: 'eager', cap: 4, level: 0.95, version: '', replications: 2 } as const

/** 2 s a wafer, 8 h of service every Wednesday. */
const line: Line = {
  line: 'one press',
  route: [
    {
      step: 'press',
      cycle: '2 s',
      stops: [{ stop: 'weekly service', at: ['Wed 08:00'], lasts: '8 h', kind: 'scheduled' }],
    },
  ],
}

describe('a run of whole weeks in which days differ', () => {
  // By hand: 1800 wafers/h in 160 of 168 hours.
  it.each([
    [7, 0],
    [14, 168],
    [28, 336],
  ])('of %i days leaves whole weeks', async (days, most) => {
    const { goodOutput, warmUp } = await runStudy(line, { ...options, days })
    expect(warmUp.cutHours % 168).toBe(0)
    expect(warmUp.cutHours).toBeLessThanOrEqual(most)
    expect(goodOutput.perHour.mean).toBeCloseTo((1800 * 160) / 168, 0)
  })

  it('loses a warm-up by whole cuts, at most half of the run', () => {
    expect([0, 1, 25, 26].map(blocks => wholeCut(blocks, 1))).toEqual([0, 1, 25, 25])
    expect([0, 1, 5, 6, 25].map(blocks => wholeCut(blocks, 5))).toEqual([0, 5, 5, 10, 25])
    expect([1, 13].map(blocks => wholeCut(blocks, 12))).toEqual([12, 24])
    expect(wholeCut(10, 0)).toBe(0)
  })
})
