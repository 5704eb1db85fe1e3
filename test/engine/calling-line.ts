import fc from 'fast-check'
import { checkLine } from '../../sim/line/check.ts'
import type { Item, Line, Step, Stop } from '../../sim/line/types.ts'

/**
 * Lines in which tools work on after they have called for people: few of these, so that some calls wait long, who
 * go to other tools meanwhile. Steps stand close together: what a tool asks the one before it for may be void by
 * a stop that nobody knew of when it asked. A cap on wafers hears of every loss.
 */
type Kind = 'single' | 'belt' | 'halting belt' | 'batch'
const kinds = fc.constantFrom<Kind>('single', 'single', 'belt', 'halting belt', 'batch')

const WAYS = {
  single: { cycle: '2 s' },
  belt: { belt: { spacing: '1 s', transit: '4 s' } },
  'halting belt': { belt: { spacing: '2 s', transit: '5 s', whenFull: 'stop' } },
  batch: { batch: { load: 2, time: '5 s' } },
} as const

const clock = (kind: Kind) =>
  fc.oneof(
    fc.constant({ counts: kind === 'batch' ? 'loads' : 'wafers', every: { uniform: [1, 12] } } as const),
    fc.constant({ every: { uniform: ['1 s', '25 s'] } } as const),
    fc.constant({ counts: 'calendar time', every: { uniform: ['1 s', '25 s'] } } as const),
  )

/** It calls while the tool works on. */
const planned = (kind: Kind): fc.Arbitrary<Stop> =>
  fc
    .record({
      clock: clock(kind),
      atMost: fc.constantFrom('0 s' as const, '3 s' as const, '40 s' as const, '300 s' as const),
      priority: fc.constantFrom(-1, 0),
      setUp: fc.boolean(),
      renews: fc.boolean(),
      restarts: fc.boolean(),
      overdue: fc.boolean(),
      first: fc.boolean(),
    })
    .map(({ clock: when, atMost, priority, setUp, renews, restarts, overdue, first }) => ({
      ...{ stop: 'planned', lasts: { uniform: ['1 s', '9 s'] } as const, skill: 'fitter', priority },
      ...when,
      waits: { until: 'people come', atMost },
      ...(setUp && { setUpWafers: 1 }),
      ...(renews && { renews: ['failure'] }),
      ...(restarts && !kind.endsWith('belt') && { inside: 'restart' }),
      ...(overdue && { overdue: '20 %' }),
      ...(first && !renews && { first: 'at random' }),
    }))

/** It takes the tool down while people are called for the other, and may spare them the way. */
const failure = (kind: Kind): fc.Arbitrary<Stop> =>
  fc.record({ clock: clock(kind), calls: fc.boolean(), renews: fc.boolean(), loses: fc.boolean() }).map(
    ({ clock: when, calls, renews, loses }): Stop => ({
      ...{ stop: 'failure', lasts: { uniform: ['1 s', '6 s'] } as const },
      ...when,
      ...(calls && { skill: 'fitter' }),
      ...(renews && { renews: ['planned'] }),
      ...(loses && { inside: 'lose' }),
    }),
  )

const step = kinds.chain(kind =>
  fc.record({
    kind: fc.constant(kind),
    tools: fc.integer({ min: 1, max: 3 }),
    stops: fc.tuple(planned(kind), failure(kind)),
    fails: fc.boolean(),
    places: fc.integer({ min: 0, max: 5 }),
    breakage: fc.boolean(),
  }),
)

const CALENDAR = {
  shifts: {
    early: { from: '00:00', to: '00:03', days: ['Mon'] },
    late: { from: '00:04', to: '00:00', days: ['Mon'] },
  },
} as const satisfies Line['calendar']

/** Lines that `check` passes. */
export const callingLine: fc.Arbitrary<Line> = fc
  .record({
    steps: fc.array(step, { minLength: 1, maxLength: 4 }),
    cap: fc.option(fc.integer({ min: 4, max: 30 }), { nil: undefined }),
    heads: fc.integer({ min: 1, max: 2 }),
    reach: fc.constantFrom('0 s' as const, '3 s' as const, { uniform: ['0 s', '5 s'] } as const),
    closes: fc.boolean(),
  })
  .map(({ steps, cap, heads, reach, closes }): Line => {
    const route = steps.flatMap(({ kind, tools, stops, fails, places, breakage }, index): Item[] => {
      const made: Step = {
        ...{ step: `step ${index + 1}`, tools, stops: fails ? stops : [unrenewing(stops[0])], ...WAYS[kind] },
        ...(breakage && { breakage: '5 %' }),
      }
      const buffered = places > 0 || kind === 'batch'
      return buffered ? [{ buffer: `before ${index + 1}`, capacity: Math.max(2, places) }, made] : [made]
    })
    return {
      ...{
        line: 'calling',
        route,
        crews: { fitter: { heads: closes ? { early: heads, late: 1 } : heads, reach } },
      },
      ...(cap !== undefined && { cap: { wafers: cap } }),
      ...(closes && { calendar: CALENDAR }),
    }
  })
  .filter(line => checkLine(line).problems.length === 0)

function unrenewing({ renews: _renews, ...stop }: Stop): Stop {
  return stop
}
