import { describe, expect, it } from 'vitest'
import { capacityTable, lineYield } from '../../sim/line/capacity.ts'
import { describeChanges } from '../../sim/line/describe.ts'
import { applyVariant } from '../../sim/line/vary.ts'
import { problemsIn, routeOf, singleWith, stepWith, stopWith, valid, warningsIn } from './lines.ts'

/** Stops after too long without work, and set-up wafers: what may be written, what it is on paper. Texts as they are shown. */

const JAM = 'route[0] "print" → stops[0] "jam"'
const idleStop = (fields: object) =>
  singleWith({ stops: [{ stop: 'jam', afterIdle: '15 min', lasts: '48 s', ...fields }] })

describe('stops after too long without work', () => {
  it.each<[unknown, string[]]>([
    [{ ...idleStop({ kind: 'supply', skill: 'crew', setUpWafers: 5 }), crews: { crew: { heads: 1 } } }, []],
    [idleStop({}), []],
    [
      idleStop({ afterIdle: '0 s' }),
      [`${JAM} → afterIdle: found "0 s", expected a time from 0.001 ms to 36500 d`],
    ],
    [idleStop({ every: '2 h' }), [`${JAM}: found every and afterIdle, expected either every or afterIdle`]],
    [
      idleStop({ every: '2 h', at: ['06:00'] }),
      [`${JAM}: found every, at and afterIdle, expected either every, at or afterIdle`],
    ],
    [
      idleStop({ counts: 'calendar time' }),
      [
        `${JAM} → counts: found "calendar time", expected none beside afterIdle (afterIdle says when it is due)`,
      ],
    ],
    [
      idleStop({ inside: 'lose', waits: { until: 'starved', atMost: '1 h' } }),
      [
        `${JAM} → inside: found "lose", expected none beside afterIdle (an idle tool is empty)`,
        `${JAM} → waits: found until "starved", expected none beside afterIdle (it comes before the next work)`,
      ],
    ],
    [
      idleStop({ first: '1 h' }),
      [
        `${JAM} → first: found "1 h", expected none beside afterIdle (it is due after idleness, whenever that is)`,
      ],
    ],
    [
      idleStop({ overdue: '1 %' }),
      [
        `${JAM} → overdue: found "1 %", expected none without "waits" (a stop that does not wait is never overdue)`,
      ],
    ],
    [
      idleStop({ afterIdel: '15 min' }),
      [`${JAM} → afterIdel: found an unknown key, expected one of KEYS (did you mean "afterIdle"?)`],
    ],
  ])('%#', (value, texts) => {
    const shown = problemsIn(value).map(text => text.replace(/one of stop, .*, from/, 'one of KEYS'))
    expect(shown).toEqual(texts)
  })

  it('do not make good what wears', () => {
    const value = stepWith({
      cycle: '2 s',
      stops: [{ stop: 'wipe', afterIdle: '15 min', lasts: '48 s' }],
      drift: { until: 'wipe', defects: '1 %' },
    })
    expect(problemsIn(value)).toEqual([
      'route[0] "print" → drift → until: found "wipe", expected a stop of this step, but it has none (that one comes after idleness, not after wear)',
    ])
  })

  it('cost nothing on paper, where no tool waits, and are no rare stops', () => {
    const given = { ...idleStop({}), run: { days: 1, replications: 1 } }
    expect(capacityTable(valid(given))[0].availability).toBe(1)
    expect(warningsIn(given)).toEqual([])
  })

  it('are changed by variants, and told of', () => {
    const base = valid({
      ...idleStop({}),
      variants: { 'wipe later': { print: { stops: { jam: { afterIdle: '30 min' } } } } },
    })
    expect(describeChanges(base, applyVariant(base, 'wipe later'))).toEqual([
      'print: stop jam afterIdle 15 min -> 30 min',
    ])
  })
})

describe('set-up wafers', () => {
  it.each<[unknown, string[]]>([
    [stopWith({ setUpWafers: 10 }), []],
    [stopWith({ setUpWafers: [3, 10] }), []],
    [
      stopWith({ setUpWafers: [10, 3] }),
      [`${JAM} → setUpWafers: found [10,3], expected the least and the most wafers lost, as in [2, 5]`],
    ],
    [
      stopWith({ setUpWafers: '10' }),
      [
        `${JAM} → setUpWafers: found "10", expected a whole number from 0 to 10000000 (write it without quotes)`,
      ],
    ],
  ])('%#', (value, texts) => {
    expect(problemsIn(value)).toEqual(texts)
  })

  it('are a loss on paper', () => {
    // 10 of 2000; and of 3600 in 2 h of work at 2 s: 20 and 4 on average.
    const stops = [
      { stop: 'screen', counts: 'wafers', every: 2000, lasts: '5 min', setUpWafers: 10 },
      { stop: 'wipe', every: '2 h', lasts: '1 min', setUpWafers: [3, 5] },
      { stop: 'idle', afterIdle: '15 min', lasts: '1 min', setUpWafers: 5 },
    ]
    expect(lineYield(valid(singleWith({ stops })))).toBeCloseTo(1 - 10 / 2000 - 4 / 3600, 12)
    // 3 wafers of each ten loads of 50.
    const clean = { stop: 'clean', counts: 'loads', every: 10, lasts: '1 min', setUpWafers: 3 }
    const tube = { step: 'print', batch: { load: 50, time: '1 h', tubes: 3 }, stops: [clean] }
    const line = valid(routeOf({ buffer: 'store', capacity: 90 }, tube))
    expect(lineYield(line)).toBeCloseTo(1 - 3 / 500, 12)
  })

  it('are of one mind with the mean of tools of different cycles', () => {
    // Every 2 h of work: 7200 wafers of the tool of 1 s, 3600 of that of 2 s: 8 lost of 10800.
    const stops = [{ stop: 'wipe', every: '2 h', lasts: '1 min', setUpWafers: 4 }]
    expect(lineYield(valid(stepWith({ tools: 2, cycles: ['1 s', '2 s'], stops })))).toBeCloseTo(
      1 - 8 / 10_800,
      12,
    )
  })

  it('are warned of when they are many', () => {
    const stops = [{ stop: 'screen', counts: 'wafers', every: 100, lasts: '5 s', setUpWafers: 8 }]
    expect(warningsIn(singleWith({ stops }))).toEqual([
      'route[0] "print" → stops: found 8 % of all wafers as set-up wafers, expected at most 5 % (that many are lost after the stops)',
    ])
  })
})
