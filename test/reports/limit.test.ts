import { describe, expect, it } from 'vitest'
import { runView } from '../../reports/view/run-view.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { singleReplication, states, step, study } from './fixture.ts'

const context = { seconds: 10.04, fingerprint: '4f1e9a0c22d1' }

describe('the second sentence', () => {
  const limit = (steps: RunStudy['steps']) => runView({ ...study, steps }, context).headline[1]
  const named = (name: string, starved: number) =>
    step(name, 'single', states(1 - starved - 0.03, starved, 0, 0.02, 0.01))

  it('names two steps that the figures do not tell apart', () => {
    expect(limit([named('a', 0.01), named('b', 0.012), named('c', 0.2)])).toBe(
      'The limit may be "a", 99.0 % busy or down; 10 replications do not tell it from "b" (98.8 %).',
    )
  })

  it('names more than two', () => {
    expect(limit([named('a', 0.01), named('b', 0.012), named('c', 0.011)])).toBe(
      'The limit may be "a", 99.0 % busy or down; 10 replications do not tell it from "c" (98.9 %) and "b" (98.8 %).',
    )
  })

  it('counts what it does not name', () => {
    const alike = ['a', 'b', 'c', 'd', 'e', 'f'].map(name => named(name, 0.01))
    expect(limit(alike)).toBe(
      'The limit may be "a", 99.0 % busy or down; 10 replications do not tell it from "b" (99.0 %), "c" (99.0 %), "d" (99.0 %) and 2 more.',
    )
  })

  it('names no limit where every step waits', () => {
    expect(limit([named('a', 0.4), named('b', 0.3)])).toBe(
      'No step stands out as the limit: "b", which waits least, waits 30.0 % of the time.',
    )
  })

  it('gives whole per cents where the figures say no more', () => {
    const wide = { mean: 0.04, low: 0.01, high: 0.07, n: 10 }
    const shares = { ...states(0.93, 0.04, 0, 0.02, 0.01), starved: wide }
    expect(limit([step('a', 'single', shares), named('b', 0.1)])).toBe(
      'By these figures the limit looks to be "a": 96 % busy or down.',
    )
  })

  it('claims little after one replication', () => {
    expect(runView(singleReplication(), context).headline[1]).toMatch(
      /^In this one replication the step that waits least is "front print": 99 % busy or down\.$/,
    )
  })

  it('does not count hours outside the shifts as waiting', () => {
    const night = {
      ...states(0.45, 0.002, 0, 0.04, 0.008),
      nonScheduled: { mean: 0.5, low: 0.5, high: 0.5, n: 10 },
    }
    expect(limit([step('a', 'single', night), named('b', 0.2)])).toBe(
      'By these figures the limit looks to be "a": 99.6 % of its open time busy or down.',
    )
  })

  describe('where wafers pile up', () => {
    const filling = (steps: RunStudy['steps'], change: Partial<RunStudy> = {}) => {
      const piled = steps.map(one =>
        one.name === 'a' ? { ...one, pilesUpPerHour: { mean: 600, low: 580, high: 620, n: 10 } } : one,
      )
      return runView({ ...study, ...change, steps: piled }, context).headline[1]
    }

    it('the limit is another, though the step before them is as busy', () => {
      expect(filling([named('a', 0), named('b', 0.001), named('c', 0.2)])).toBe(
        'By these figures the limit looks to be "b": 99.9 % busy or down; behind "a" 600 wafers/h pile up.',
      )
      expect(filling([named('a', 0.01), named('b', 0.001), named('c', 0.2)])).toBe(
        'By these figures the limit looks to be "b": 99.9 % busy or down.',
      )
    })

    it('so it is in one replication, and among several that are alike', () => {
      const steps = [named('a', 0), named('b', 0.01), named('c', 0.011)]
      expect(filling(steps, { replications: 1 })).toBe(
        'In this one replication the step that waits least is "b": 99.0 % busy or down; behind "a" 600 wafers/h pile up.',
      )
      expect(filling(steps)).toBe(
        'The limit may be "b", 99.0 % busy or down; 10 replications do not tell it from "c" (98.9 %); behind "a" 600 wafers/h pile up.',
      )
    })

    it('nobody is named where all others wait, for carriers or people', () => {
      expect(filling([named('a', 0), named('b', 0.4), named('c', 0.5)])).toBe(
        'Behind "a" 600 wafers/h pile up, so it is not the limit, and no other step stands out: "b", which waits least, waits 40.0 % of the time.',
      )
    })

    it('the only step is named all the same', () => {
      expect(filling([named('a', 0)])).toBe(
        'By these figures the limit looks to be "a": 100.0 % busy or down.',
      )
    })
  })

  it('names the feed where all of it is taken and every step waits', () => {
    const fed = (steps: RunStudy['steps'], change: Partial<RunStudy> = { allOfFeedPerHour: 430 }) =>
      runView({ ...study, ...change, steps }, context).headline[1]
    expect(fed([named('a', 0.1), named('b', 0.04)])).toBe(
      'The feed holds the line: all that it brings, 430 wafers/h, is taken, and "b", which waits least, waits 4.0 % of the time.',
    )
    const busy = 'By these figures the limit looks to be "b": 99.8 % busy or down.'
    expect(fed([named('a', 0.1), named('b', 0.002)])).toBe(busy)
    expect(fed([named('a', 0.1), named('b', 0.002)], {})).toBe(busy)
  })

  it('says so when nothing moved', () => {
    expect(limit([step('a', 'single', states(0, 1, 0, 0, 0))])).toBe('By these figures no step did any work.')
  })
})

describe('the third sentence', () => {
  const told = (utilisation: number, shifts: Readonly<Record<string, readonly [number, number]>> = {}) => {
    const estimate = (mean: number) => ({ mean, low: mean - 0.01, high: mean + 0.01, n: 10 })
    const crew: RunStudy['crews'][number] = {
      ...{ name: 'techs', kind: 'crew', utilisation: estimate(utilisation), callsPerDay: estimate(30) },
      byShift: Object.entries(shifts).map(([shift, [heads, work]]) => ({
        ...{ shift, heads, utilisation: estimate(work) },
      })),
      waitMinutes: estimate(61.8),
      waitMinutesP95: estimate(200),
    }
    return runView({ ...study, crews: [crew] }, context).headline[2]
  }

  it('names people who have no time to spare', () => {
    expect(told(0.97)).toBe(
      'People or vehicles may hold the line too: "techs" works 97 % of its time; calls wait 62 min.',
    )
  })

  it('names the shift in which they have none', () => {
    expect(told(0.7, { day: [3, 0.6], night: [1, 0.96], weekend: [0, 1] })).toBe(
      'People or vehicles may hold the line too: "techs" works 96 % of its time, in the shift "night"; calls wait 62 min.',
    )
  })

  it('is left out where people have time', () => {
    expect(told(0.7, { day: [3, 0.6], night: [1, 0.8] })).toBeUndefined()
  })
})
