import { describe, expect, it } from 'vitest'
import { blocksFor } from '../../sim/engine/blocks.ts'
import { outlineOf } from '../../sim/line/outline.ts'
import { patternOf } from '../../sim/line/pattern.ts'
import type { Line } from '../../sim/line/types.ts'
import type { DayTime } from '../../sim/line/types-people.ts'
import { TICKS_PER_DAY } from '../../sim/plan/plan.ts'
import { compareDesigns } from '../../sim/study/compare/compare.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { wholeCut } from '../../sim/study/warm-up.ts'
import { here } from './lines.ts'

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

  it('that is none is measured over whole days', async () => {
    const { warmUp } = await runStudy(line, { ...options, days: 10 })
    expect(warmUp.cutHours % 24).toBe(0)
  })

  it('loses a warm-up by whole cuts, at most half of the run', () => {
    const of50 = (cutBy: number) => (blocks: number) => wholeCut(blocks, 50, cutBy)
    expect([0, 1, 25, 26].map(of50(1))).toEqual([0, 1, 25, 25])
    expect([0, 1, 5, 6, 25].map(of50(5))).toEqual([0, 5, 5, 10, 25])
    expect([1, 13].map(of50(12))).toEqual([12, 24])
    expect([10].map(of50(0))).toEqual([0])
    expect([1, 9, 40].map(blocks => wholeCut(blocks, 56, 8))).toEqual([8, 16, 24])
  })
})

describe('the blocks of a run', () => {
  it.each([
    [10, 50],
    [2, 50],
    [1, 50],
    [0.25, 50],
    [7, 56],
    [14, 56],
    [3, 54],
    [30, 60],
    [90, 90],
    [364, 91],
    [365, 73],
    // Of 101 days no 25 to 100 blocks can be whole days.
    [101, 50],
  ])('of %d days are %d, and begin with the days where that can be', (days, count) => {
    const { coarse, coarseCount, fineCount, fine, horizon } = blocksFor(days * TICKS_PER_DAY)
    expect([coarseCount, fineCount]).toEqual([count, 10 * count])
    expect([coarse * coarseCount, fine * fineCount]).toEqual([horizon, horizon])
    expect(horizon).toBe(days * TICKS_PER_DAY)
    if (Number.isInteger(days) && days !== 101)
      expect(Math.max(coarse, TICKS_PER_DAY) % Math.min(coarse, TICKS_PER_DAY)).toBe(0)
  })
})

describe('a run of whole days in which hours differ', () => {
  const { route } = line
  const press = { step: 'press', cycle: '2 s' } as const
  const open = (from: DayTime, to: DayTime) => ({ shifts: { day: { from, to } } })

  // By hand: 1800 wafers/h in 16 (12) of 24 hours, whatever is cut.
  it.each([
    ['06:00', '22:00', 16, 7],
    ['06:00', '22:00', 16, 14],
    ['06:00', '18:00', 12, 3],
    ['06:00', '18:00', 12, 11],
  ] as const)('open from %s to %s gives the mean of days', async (from, to, hours, days) => {
    const nights: Line = { line: 'no nights', calendar: open(from, to), route: [press] }
    const { goodOutput, warmUp } = await runStudy(nights, { ...options, days })
    expect(warmUp.cutHours % 24).toBe(0)
    expect(goodOutput.perHour.mean).toBeCloseTo((1800 * hours) / 24, 0)
  })

  it('is compared with one in which they do not over the same days', async () => {
    const lines = [
      { line: 'no nights', calendar: open('06:00', '18:00'), route: [press] },
      { line: 'always', route: [press] },
    ]
    for (const days of [7, 14, 21]) {
      const designs = lines.map(one => ({ name: one.line, line: one as Line }))
      const { pairs } = await compareDesigns(designs, { ...options, days }, here())
      expect(Math.abs(pairs[0].gainPerHour.mean)).toBeCloseTo(900, 0)
    }
  })

  // A day of batches that fill a store first: by hours, of which half are closed, no end of that is seen.
  it('finds the days in which the line fills', async () => {
    const slow: Line = {
      line: 'slow start',
      calendar: open('06:00', '18:00'),
      route: [
        press,
        { conveyor: 'long way', transit: '20 h', capacity: 1_000_000 },
        { step: 'pack', cycle: '1 s' },
      ],
    }
    const { warmUp, goodOutput } = await runStudy(slow, { ...options, days: 14 })
    expect(warmUp.settled).toBe(true)
    expect(warmUp.cutHours).toBeGreaterThanOrEqual(24)
    expect(goodOutput.perHour.mean).toBeCloseTo(900, -1)
  })

  it('any hours are alike where nothing goes by the clock', async () => {
    const always: Line = {
      line: 'always',
      route: [press],
      calendar: { shifts: { early: { from: '06:00', to: '18:00' }, late: { from: '18:00', to: '06:00' } } },
    }
    expect(patternOf(always, outlineOf(always.route))).toBeUndefined()
    expect(patternOf(line, outlineOf(route))?.repeats).toBe('week')
  })
})
