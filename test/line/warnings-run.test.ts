import { describe, expect, it } from 'vitest'
import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'

/** Expected values: counted by hand. */

function warned(run: object, stops: object[], more: object = {}): string[] {
  const line = { line: 'x', route: [{ step: 'print', tools: 2, cycle: '2 s', stops }], run, ...more }
  const { problems, warnings } = checkLine(line)
  expect(problems).toEqual([])
  return warnings.map(problemText)
}

const TEN = { days: 10, replications: 10 }

describe('stops that are too rare for the runs', () => {
  const pump = { stop: 'pump', every: { exponential: '900 h' }, lasts: '1 h' }

  it('are told with their number and the runs', () => {
    // Two tools for 100 days: 4800 h / 901 h = 5.3; for 30 days 1.6.
    expect(warned(TEN, [pump])).toEqual([])
    expect(warned({ days: 10, replications: 3 }, [pump])).toEqual([
      'route[0] "print" → stops[0] "pump" → every: found about 1.6 of them in 3 runs of 10 days, expected 5 or more, by longer or more runs (with so few, what they cost is left to luck)',
    ])
    expect(warned({ days: 1, replications: 1 }, [pump])[0]).toContain('in one run of 1 day,')
  })

  it('are one warning when there are many', () => {
    const many = ['a', 'b', 'c', 'd'].map(stop => ({ ...pump, stop }))
    expect(warned({ days: 10, replications: 3 }, many)).toEqual([
      'run: found 4 stops of which fewer than 5 come in 3 runs of 10 days, the first route[0] "print" → stops[0] "a" → every, expected longer or more runs (with so few, what they cost is left to luck)',
    ])
  })

  it('are not told where the runs are not said', () => {
    expect(warned({ days: 10 }, [pump])).toEqual([])
  })
})

describe('stops at fixed intervals longer than a run', () => {
  const weekly = { stop: 'service', counts: 'calendar time', every: '7 d', lasts: '1 h', kind: 'scheduled' }
  const short = { days: 3, replications: 40 }

  it('come in none of them, or in each', () => {
    expect(warned(short, [weekly])).toEqual([
      'route[0] "print" → stops[0] "service" → every: found "7 d" in runs of 3 d, expected runs as long as that at least, or "first" with a span, or at random, which spreads them (it comes in none of them)',
    ])
    expect(warned(short, [{ ...weekly, first: ['20 h', '44 h'] }])[0]).toMatch(
      /\("first" says whether it comes once or not at all, never 0\.43 times\)$/,
    )
  })

  it('are right in longer runs, and where they are spread', () => {
    expect(warned({ days: 35, replications: 40 }, [weekly])).toEqual([])
    // Due at the very end of a run of 7 days.
    expect(warned({ days: 7, replications: 40 }, [weekly])[0]).toContain('(it comes in none of them)')
    expect(warned(short, [{ ...weekly, first: { from: '0 h', to: '7 d' } }])).toEqual([])
  })
})

describe('planned work whose clocks all start with the run', () => {
  const planned = { stop: 'clean', counts: 'calendar time', every: { uniform: ['6 d', '8 d'] }, lasts: '8 h' }

  it('comes less often in it than it will', () => {
    // 14 / 7.333 = 1.9 in as many days; cv^2 = 1 / (3 x 49), so less (1 - cv^2) / 2 = 0.4966: 1.4.
    expect(warned({ days: 14, replications: 10 }, [planned])).toEqual([
      'route[0] "print" → stops[0] "clean" → every: found clocks that all start with the run, of 14 days, expected "first", at random, or a span over which the first times are spread, or longer runs (each tool has about 1.4 of them in a run, where it will have 1.9 in as many days)',
    ])
    expect(warned({ days: 364, replications: 10 }, [planned])).toEqual([])
    expect(
      warned({ days: 14, replications: 10 }, [{ ...planned, first: { from: '0 d', to: '7 d' } }]),
    ).toEqual([])
  })

  it('may be any that wears: at random it begins with some of an interval over', () => {
    // 10 000 wafers of 2 s and 1 h: 48 / 6.556 = 7.3 of them in as many days, half of one less in a run. At 20 min too little for each of 48 h.
    const screen = { stop: 'screen', counts: 'wafers', every: 10_000, lasts: '1 h' }
    const two = { days: 2, replications: 10 }
    expect(warned(two, [screen])).toEqual([
      'route[0] "print" → stops[0] "screen" → every: found clocks that all start with the run, of 2 days, expected "first", at random, or longer runs (each tool has about 6.8 of them in a run, where it will have 7.3 in as many days)',
    ])
    expect(warned(two, [{ ...screen, first: 'at random' }])).toEqual([])
    expect(warned({ days: 20, replications: 10 }, [screen])).toEqual([])
    // What is past says nothing of when a memoryless one comes.
    const jam = { stop: 'jam', every: { exponential: '20 h' }, lasts: '4 h' }
    expect(warned(two, [jam])).toEqual([])
    expect(warned(two, [{ ...jam, every: { weibull: '20 h', shape: 4 } }])[0]).toContain('about 1.5 of them')
  })

  it('may come in none', () => {
    const none = 'found none of them in 10 runs of 5 days'
    expect(warned({ days: 5, replications: 10 }, [planned])[0]).toContain(none)
    // 60 loads of 2 s each are 2 min, of 600 000 wafers 14 days.
    const wafers = { stop: 'swap', counts: 'wafers', every: 600_000, lasts: '1 h' }
    expect(warned({ days: 5, replications: 10 }, [wafers])[0]).toContain(none)
  })

  it('counts the work of a tool, which waits for wafers and for the morning', () => {
    // Two tools of 1800 wafers/h: with 900 wafers/h at work a quarter of 168 h; with nights closed half.
    const week = { days: 7, replications: 10 }
    const clean = { stop: 'clean', every: '100 h', lasts: '1 h' }
    const nights = { calendar: { shifts: { day: { from: '06:00', to: '18:00' } } } }
    expect(warned(week, [clean]).join()).not.toContain('found none')
    expect(warned(week, [clean], { feed: { rate: '900 wafers/h' } })[0]).toContain('found none of them')
    expect(warned(week, [clean], nights)[0]).toContain('found none of them')
    const calendar = { ...clean, counts: 'calendar time' }
    expect(warned(week, [calendar], { feed: { rate: '900 wafers/h' } }).join()).not.toContain('found none')
  })
})

describe('runs that are no whole weeks', () => {
  const stops = [{ stop: 'jam', every: { exponential: '1 h' }, lasts: '1 min' }]
  const shift = (days?: string[]) => ({
    calendar: { shifts: { day: { from: '06:00', to: '18:00', ...(days && { days }) } } },
  })
  const WORKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri']

  it('do not have the mean of a calendar that differs from day to day', () => {
    expect(warned(TEN, stops, shift(WORKDAYS))).toEqual([
      'run → days: found 10, expected whole weeks: 7, 14, … (what the calendar leaves open differs from day to day, and a run starts on Monday at 00:00)',
    ])
    expect(warned({ ...TEN, days: 14 }, stops, shift(WORKDAYS))).toEqual([])
    expect(warned(TEN, stops, shift())).toEqual([])
  })

  it('nor that of a stop on one day of the week', () => {
    const onWednesday = { stop: 'service', at: ['Wed 08:00'], lasts: '1 h', kind: 'scheduled' }
    expect(warned(TEN, [onWednesday])[0]).toContain('when "service" is due differs from day to day')
    expect(warned(TEN, [{ ...onWednesday, at: ['08:00'] }])).toEqual([])
  })

  it('and runs of no whole days that of one that differs from hour to hour', () => {
    const half = { ...TEN, days: 10.5 }
    const why = (what: string) =>
      `run → days: found 10.5, expected whole days (${what} differs from hour to hour, and a run starts on Monday at 00:00)`
    expect(warned(half, stops, shift())).toEqual([why('what the calendar leaves open')])
    const daily = { stop: 'service', at: ['08:00'], lasts: '1 h', kind: 'scheduled' }
    expect(warned(half, [daily])).toContain(why('when "service" is due'))
    const byShift = {
      calendar: { shifts: { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } } },
      crews: { fitters: { heads: { day: 2, night: 1 } } },
    }
    expect(warned(half, [{ ...stops[0], skill: 'fitters' }], byShift)).toContain(
      why('how many people are there'),
    )
  })
})
