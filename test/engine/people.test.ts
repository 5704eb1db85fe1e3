import { describe, expect, test } from 'vitest'
import { UNSCHEDULED_DOWN, WAITING_FOR_CREW } from '../../sim/engine/meter.ts'
import type { Crew, Line, Route, Stop } from '../../sim/line/types.ts'
import type { ClockTime } from '../../sim/line/types-people.ts'
import { observe } from './observe.ts'

/** Smallest lines with people that a pencil solves; the arithmetic stands beside each. Both drives must give it. */
const DRIVES = ['strict', 'eager'] as const

/** Two tools of 10 s that both stop after 25 s of work, 5 s into their third wafer, for 7 s. */
const pair = (people: number): Route => [
  {
    step: 'a',
    tools: 2,
    cycle: '10 s',
    stops: [{ stop: 's', every: '25 s', lasts: '7 s', skill: 'crew', people }],
  },
]

const crew = (heads: Crew['heads'], more: Partial<Crew> = {}) => ({ crews: { crew: { heads, ...more } } })

/** Seconds that tools of the step waited for people in a run of so many seconds. */
function waited(observed: ReturnType<typeof observe>, step: number, seconds: number): number {
  return (observed.figures.steps[step].stops[0].waitHoursPerDay * seconds) / 24
}

describe.each(DRIVES)('%s drive', drive => {
  test('two tools, one person: the second waits until the first is done', () => {
    // Tool 1 is repaired 25 to 32 s, its wafer is done at 37 s; tool 2 32 to 39 s, 44 s. Then 47, 54 s.
    const { exits, figures } = observe(pair(1), 50, drive, crew(1))
    expect(exits).toEqual([10, 10, 20, 20, 37, 44, 47])
    expect(figures.steps[0].states[WAITING_FOR_CREW]).toBeCloseTo(7 / 100, 12)
    expect(figures.steps[0].states[UNSCHEDULED_DOWN]).toBeCloseTo(14 / 100, 12)
  })

  test.each([
    // Two people: one for each tool, or both for one tool after the other.
    [1, [37, 37]],
    [2, [37, 44]],
  ])('%i needed of two', (people, third) => {
    expect(observe(pair(people), 50, drive, crew(2)).exits.slice(4, 6)).toEqual(third)
  })

  test('the way to the tool is part of the wait', () => {
    // Struck at 25 s, people there at 29 s, done at 36 s: 5 s of the wafer are left.
    const [step] = pair(1)
    const route = [{ ...step, tools: 1 }] as Route
    const observed = observe(route, 50, drive, crew(1, { reach: '4 s' }))
    expect(observed.exits.slice(0, 3)).toEqual([10, 20, 41])
    expect(waited(observed, 0, 50)).toBeCloseTo(4, 9)
  })

  test('people whom nobody has called for weeks come as ever', () => {
    // Struck at 1000 and 2001 h of the calendar, an hour each time: 2497 wafers of an hour leave before 2500 h.
    const stop = { stop: 's', counts: 'calendar time', every: '1000 h', lasts: '1 h', skill: 'crew' } as const
    const route: Route = [{ step: 'a', cycle: '1 h', stops: [stop] }]
    const always = observe(route, 2500 * 3600, drive, crew(1))
    expect(always.exits).toHaveLength(2497)
    // By night nobody is there: 1000 h is Thursday of the sixth week, 16:00; 2001 h is Tuesday of the twelfth, 9:00.
    const calendar = {
      shifts: { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } },
    } as const
    const byDay = observe(route, 2500 * 3600, drive, { calendar, ...crew({ day: 1 }) })
    expect(byDay.exits).toHaveLength(2497)
  })

  test('of two crews with the skill the first named goes, then the other', () => {
    // Tool 1 by the near crew 25 to 32 s, done at 37 s; tool 2 by the far one 30 to 37 s, 42 s.
    const crews = {
      near: { heads: 1, skills: ['crew'] },
      far: { heads: 1, skills: ['crew'], reach: '5 s' },
    } as const
    expect(observe(pair(1), 50, drive, { crews }).exits.slice(4, 6)).toEqual([37, 42])
  })

  test('a crew that is waited for serves nobody else, though it has people free', () => {
    // One of the two near people is with A 10 to 40 s. B calls at 12 s and needs both: it waits 28 s. C calls
    // at 15 s: the far crew comes, 5 s on its way.
    const stop = (first: number, lasts: number, skill: string, people: number): Stop => ({
      ...{ stop: 's', counts: 'calendar time', every: '9 h', first: `${first} s`, lasts: `${lasts} s` },
      ...{ skill, people },
    })
    const lane = (step: string, own: Stop): Route => [{ step, cycle: '100 s', stops: [own] }]
    const lanes = {
      A: lane('A', stop(10, 30, 'one', 1)),
      B: lane('B', stop(12, 10, 'both', 2)),
      C: lane('C', stop(15, 10, 'one', 1)),
    }
    const crews = {
      near: { heads: 2, skills: ['one', 'both'] },
      far: { heads: 1, skills: ['one'], reach: '5 s' },
    } as const
    const observed = observe([{ group: 'lanes', lanes }], 100, drive, { crews })
    for (const [step, wait] of [0, 28, 5].entries()) expect(waited(observed, step, 100)).toBeCloseTo(wait, 9)
  })

  test.each([
    // A is served 10 to 40 s. B calls at 12 s, C at 15 s. First come: B waits 28 s, C 35 s (until 50 s).
    [0, [0, 28, 35]],
    // C first, 25 s; B until 50 s, 38 s.
    [1, [0, 38, 25]],
  ])('priority %i of the later call', (priority, waits) => {
    const lane = (step: string, first: number, lasts: number, more: Partial<Stop> = {}): Route => [
      {
        step,
        cycle: '100 s',
        stops: [
          {
            ...{ stop: 's', counts: 'calendar time', every: '9 h', first: `${first} s`, lasts: `${lasts} s` },
            ...{ skill: 'crew', ...more },
          },
        ],
      },
    ]
    const lanes = { A: lane('A', 10, 30), B: lane('B', 12, 10), C: lane('C', 15, 10, { priority }) }
    const observed = observe([{ group: 'lanes', lanes }], 100, drive, crew(1))
    for (const [step, wait] of waits.entries()) expect(waited(observed, step, 100)).toBeCloseTo(wait, 9)
  })

  test('one person clears the shards of two tools in turn', () => {
    // Every wafer breaks. Both at 10 s: tool 1 is cleared 10 to 15 s, tool 2 15 to 20 s. Then 25 to 30 s and 30 to 35 s:
    // nobody waits any more.
    const breakage = { share: '99.9999 %', clearing: { lasts: '5 s', skill: 'crew' } } as const
    const { figures, rows } = observe([{ step: 'a', tools: 2, cycle: '10 s', breakage }], 100, drive, crew(1))
    expect(figures.steps[0].states[WAITING_FOR_CREW]).toBeCloseTo(5 / 200, 12)
    // Tool 1 at 10, 25, ... 100 s; tool 2 at 10, 30, 45, ... 90 s: the run ends at 100 s.
    expect(rows.audit.broken).toBe(6 + 6)
  })

  describe('shifts', () => {
    /** A tool of 100 s with a stop by the clock; seconds at which its wafers leave. */
    const clockStop = (
      at: readonly ClockTime[],
      lasts: Stop['lasts'],
      seconds: number,
      more: Partial<Line>,
    ) =>
      observe(
        [
          {
            step: 'a',
            cycle: '100 s',
            stops: [{ stop: 's', counts: 'calendar time', at, lasts, skill: 'crew' }],
          },
        ],
        seconds,
        drive,
        more,
      ).exits

    const day = (relief?: '50 %'): Partial<Line> => ({
      calendar: {
        shifts: {
          day: {
            ...{ from: '00:00', to: '12:00' },
            breaks: [relief ? { at: '00:10', lasts: '5 min', relief } : { at: '00:10', lasts: '5 min' }],
          },
        },
      } as const,
      ...crew({ day: 2 }),
    })

    test.each([
      // Struck at 660 s, 60 s into the wafer. The break ends at 900 s, one minute of work, 40 s are left.
      [undefined, 1000],
      // One of two stays: 660 to 720 s.
      ['50 %', 760],
    ] as const)('a break with relief %s', (relief, seventh) => {
      expect(clockStop(['00:11'], '1 min', 1200, day(relief))[6]).toBe(seventh)
    })

    test('who has begun ends the job in the break', () => {
      // 540 to 720 s, 40 s into the wafer; the break is 600 to 900 s.
      expect(clockStop(['00:09'], '3 min', 1200, day())[5]).toBe(780)
    })

    test('a shift over midnight goes on in the morning', () => {
      // The night shift of Sunday ends on Monday at 00:30: who is struck at 00:20 (1200 s, as a wafer starts) is served
      // at once, until 1260 s. At 00:40 (2400 s, 40 s into a wafer) nobody is there until 22:00 (79 200 s): done at 79 260 s.
      const shifts = { night: { from: '22:00', to: '00:30' }, day: { from: '00:30', to: '22:00' } } as const
      const exits = clockStop(['00:20', '00:40'], '1 min', 80_000, {
        calendar: { shifts },
        ...crew({ night: 1 }),
      })
      expect(exits.slice(11, 13)).toEqual([1200, 1360])
      expect(exits.filter(time => time > 2300).slice(0, 2)).toEqual([2360, 79_320])
    })
  })
})
