import { describe, expect, it } from 'vitest'
import { outlineOf } from '../../sim/line/outline.ts'
import { patternOf } from '../../sim/line/pattern.ts'
import type { Line } from '../../sim/line/types.ts'
import type { DayTime } from '../../sim/line/types-people.ts'
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

  it('that is none is measured over whole days', async () => {
    const { warmUp } = await runStudy(line, { ...options, days: 10 })
    expect(warmUp.cutHours % 24).toBe(0)
  })

  it('loses a warm-up by whole cuts, at most half of the run', () => {
    expect([0, 1, 25, 26].map(blocks => wholeCut(blocks, 1))).toEqual([0, 1, 25, 25])
    expect([0, 1, 5, 6, 25].map(blocks => wholeCut(blocks, 5))).toEqual([0, 5, 5, 10, 25])
    expect([1, 13].map(blocks => wholeCut(blocks, 12))).toEqual([12, 24])
    expect(wholeCut(10, 0)).toBe(0)
  })

  it('where a cut is no whole number of blocks, to the nearest, and again the same', () => {
    // Days of runs of 6, 7 and 3 days; a run of one day has none to lose.
    const cuts = (days: number) => [1, 9, 17, 25].map(blocks => wholeCut(blocks, 50 / days))
    expect(cuts(6)).toEqual([8, 17, 17, 25])
    expect(cuts(7)).toEqual([7, 14, 21, 21])
    expect(cuts(3)).toEqual([17, 17, 17, 17])
    expect(cuts(1)).toEqual([0, 0, 0, 0])
    for (const days of [2, 3, 6, 7, 10, 11, 90, 365])
      for (const blocks of [1, 9, 17, 25]) {
        const cut = wholeCut(blocks, 50 / days)
        expect(wholeCut(cut, 50 / days)).toBe(cut)
      }
  })
})

describe('a run of whole days in which hours differ', () => {
  const { route } = line
  const press = { step: 'press', cycle: '2 s' } as const
  const open = (from: DayTime, to: DayTime) => ({ shifts: { day: { from, to } } })

  // By hand: 1800 wafers/h in 16 (12) of 24 hours; the window begins within half a block of a midnight, when the line is closed.
  it.each([
    ['06:00', '22:00', 16, 7],
    ['06:00', '22:00', 16, 10],
    ['06:00', '18:00', 12, 3],
    ['06:00', '18:00', 12, 11],
  ] as const)('open from %s to %s gives the mean of days', async (from, to, hours, days) => {
    const nights: Line = { line: 'no nights', calendar: open(from, to), route: [press] }
    const { goodOutput, warmUp } = await runStudy(nights, { ...options, days })
    const daysCut = Math.round(warmUp.cutHours / 24)
    expect(Math.abs(warmUp.cutHours - 24 * daysCut)).toBeLessThanOrEqual(0.01 * 24 * days + 1e-9)
    const cells = 1800 * hours * (days - daysCut)
    expect(goodOutput.perHour.mean).toBeCloseTo(cells / (24 * days - warmUp.cutHours), -0.5)
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
