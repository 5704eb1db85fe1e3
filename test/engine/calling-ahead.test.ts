import { expect, test } from 'vitest'
import { audit } from '../../sim/engine/audit.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import type { Item, Line, Step, Stop } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import { difference } from './digest.ts'

/** Lines on which the drives once differed, all with tools that call people and work on. Each is the smallest that random search has found. */
const BELT = { spacing: '2 s', transit: '5 s', whenFull: 'stop' } as const
const LASTS = { lasts: { uniform: ['1 s', '9 s'] } } as const
const SELDOM = { uniform: ['1 s', '25 s'] } as const
const PIECES = { uniform: [1, 12] } as const

const planned = (clock: Partial<Stop>, atMost?: `${number} s`): Stop => ({
  ...{ stop: 'planned', ...LASTS, skill: 'fitter', ...clock },
  ...(atMost && { waits: { until: 'people come', atMost } }),
})
const byCalendar = { counts: 'calendar time', every: SELDOM } as const
const byWafers = { counts: 'wafers', every: PIECES } as const
const failure = (more: Partial<Stop> = {}): Stop => ({
  ...{ stop: 'failure', lasts: { uniform: ['1 s', '6 s'] }, every: SELDOM },
  ...more,
})
const fitters = (heads: number) => ({ crews: { fitter: { heads, reach: '0 s' } } }) as const
const buffer = (name: string, capacity: number): Item => ({ buffer: name, capacity })
const step = (name: string, tools: number, way: Partial<Step>, ...stops: Stop[]): Step => ({
  ...{ step: name, tools, stops },
  ...way,
})

const LINES: readonly (readonly [string, number, number, Line])[] = [
  [
    'a wafer that reaches the end of a belt that is down calls',
    778,
    600e6,
    {
      line: 'x',
      cap: { wafers: 7 },
      ...fitters(2),
      route: [
        { ...step('a', 1, { belt: BELT }, planned({ ...byCalendar, priority: -1 }, '0 s')), breakage: '5 %' },
        buffer('before b', 2),
        step(
          'b',
          3,
          { cycle: '2 s' },
          planned({ ...byWafers, priority: -1, renews: ['failure'] }, '0 s'),
          failure({ ...byWafers, skill: 'fitter', inside: 'lose' }),
        ),
        buffer('before c', 3),
        step(
          'c',
          1,
          { belt: BELT },
          planned({ ...byWafers, priority: -1, first: 'at random' }, '3 s'),
          failure({ skill: 'fitter' }),
        ),
      ],
    },
  ],
  [
    'a tool that calls within a round goes no further than is known of people',
    0,
    7200e6,
    {
      line: 'x',
      cap: { wafers: 4 },
      ...fitters(1),
      route: [
        buffer('before a', 2),
        step('a', 1, { cycle: '2 s' }, planned({ ...byWafers, priority: -1 }, '40 s')),
        buffer('before b', 2),
        step('b', 1, { batch: { load: 2, time: '5 s' } }, planned({ every: SELDOM, priority: -1 }, '0 s')),
      ],
    },
  ],
  [
    'a belt that comes to a stand within a slot has worked all of it',
    13,
    600e6,
    {
      line: 'x',
      ...fitters(2),
      route: [
        step('a', 1, { belt: BELT }),
        step('b', 2, { belt: BELT }, planned(byCalendar, '300 s'), failure()),
        step('c', 2, { belt: BELT }, planned(byCalendar)),
      ],
    },
  ],
]

test.each(LINES)('both drives write the same books: %s', (_, replication, ticks, line) => {
  const key = (seed: number) => ({ seed: 'drives', replication: seed })
  for (let more = 0; more < 20; more++) {
    const [strict, eager] = (['strict', 'eager'] as const).map(drive =>
      runToEnd(new Run(compile(line), ticks, key(replication + more), drive)),
    )
    expect(difference(strict, eager)).toBeUndefined()
    expect(audit(eager).faults).toEqual([])
  }
})
