import type { Item, Line } from '../../sim/line/types.ts'
import type { Batch } from '../../sim/line/types-step.ts'
import { type Check, checksOf } from './check.ts'
import { inLine, share, throughput, timeInLine } from './figures.ts'
import { exponential, minutes } from './lines.ts'

/**
 * What goes round in a line and holds it back: a fixed number of wafers, boats, the loader
 * of a furnace. Where a source speaks of hours, an hour is a minute here.
 */
const MEMORY = '(value computed independently, citation from memory)'

/** Nothing is left to chance: ten replications, in 50 blocks of two hours. */
const WHOLE_LOADS = { days: 100 / 24, replications: 10 }

const check = checksOf('capacity')
const serialCheck = checksOf('serial lines')

/** Four stations of 2 h with room for all, and always eight jobs: who leaves lets the next in. */
const LOOP: Line = {
  line: 'B-12',
  cap: { wafers: 8 },
  route: [1, 2, 3, 4].flatMap((n): Item[] => [
    { buffer: `queue ${n}`, capacity: 8 },
    { step: `station ${n}`, cycle: exponential(2) },
  ]),
}

const closedLoop = check(
  'B-12',
  'eight carriers go round, four exponential stations of 2 h',
  `w/(w + N - 1) of the rate of a station: Hopp & Spearman, Factory Physics ${MEMORY}`,
  LOOP,
  1e6,
  [
    throughput(4 / 11),
    timeInLine(22),
    inLine(8),
    ...[1, 2, 3, 4].map(n => share(`station ${n}`, 'productive', 8 / 11)),
  ],
)

/** The same stations with a fixed time: they keep out of each other's way, as far as there are stations for all. */
const bestCase = (
  [
    ['B-11a', 8, 0.5, 16],
    ['B-11b', 3, 3 / 8, 8],
  ] as const
).map(([id, wafers, rate, time]) =>
  check(
    id,
    `${wafers} carriers go round, four stations of 2 h, fixed: the best case`,
    `least of w/T0 and the rate of a station: Hopp & Spearman, Factory Physics ${MEMORY}`,
    {
      line: id,
      cap: { wafers },
      route: [1, 2, 3, 4].flatMap((n): Item[] => [
        { buffer: `queue ${n}`, capacity: 8 },
        { step: `station ${n}`, cycle: minutes(2) },
      ]),
    },
    WHOLE_LOADS,
    [throughput(rate), timeInLine(time), inLine(wafers)],
  ),
)

/** At most three wafers from the first station on until the second takes them: it starts only when there is a place. */
const beforeService = serialCheck(
  'S-09b',
  'two exponential stations, 3 places: 4/5 by blocking before service',
  `(q + 1)/(q + 2), closed form ${MEMORY}`,
  {
    line: 'S-09b',
    cap: { wafers: 3, until: 'step 2' },
    route: [
      { step: 'step 1', cycle: exponential(1) },
      { buffer: 'buffer 1', capacity: 3 },
      { step: 'step 2', cycle: exponential(1) },
    ],
  },
  1.2e6,
  [throughput(0.8)],
)

// ---- furnaces ------------------------------------------------------------------------

/** A furnace that always has loads of four before it, and room behind. */
function furnace(line: string, batch: Omit<Batch, 'load'>): Line {
  return {
    line,
    route: [
      { buffer: 'store', capacity: 24 },
      { step: 'furnace', batch: { load: LOAD, ...batch } },
    ],
  }
}

const LOAD = 4

const INTERFERENCE = `as in machine interference ${MEMORY}`

const FURNACES: readonly Check[] = [
  check(
    'B-13a',
    'four tubes, two boats: 10 min, 1 min in, 1 min out, 8 min to cool: the boats are the limit',
    'arithmetic: a boat carries 4 wafers every 20 min',
    furnace('B-13a', {
      ...{ tubes: 4, time: minutes(10), loading: minutes(1), unloading: minutes(1) },
      boats: { perTool: 2, cooling: minutes(8) },
    }),
    WHOLE_LOADS,
    [throughput((2 * LOAD) / 20), share('furnace', 'productive', (2 * 12) / 20 / 4)],
  ),
  check(
    'B-13b',
    'four tubes, three boats, time and cooling lognormal: the boats are the limit whatever the law',
    'renewal theory: a boat carries 4 wafers every 10 + 6 min on average',
    furnace('B-13b', {
      ...{ tubes: 4, time: { lognormal: minutes(10), cv: 0.8 } },
      boats: { perTool: 3, cooling: { lognormal: minutes(6), cv: 1.2 } },
    }),
    2e6,
    [throughput((3 * LOAD) / 16), share('furnace', 'productive', (3 * 10) / 16 / 4)],
  ),
  check(
    'B-13c',
    'two tubes of 8 h, three boats that cool for 10 h, exponential: boats wait for tubes and tubes for boats',
    `three machines, crew of two: Ross, Introduction to Probability Models, exercise ${INTERFERENCE}`,
    furnace('B-13c', {
      ...{ tubes: 2, time: exponential(8) },
      boats: { perTool: 3, cooling: exponential(10) },
    }),
    3e6,
    [throughput(0.15965834428383707 * LOAD), share('furnace', 'productive', 0.6386333771353483)],
  ),
  check(
    'B-14a',
    'four tubes of 5 min behind a loader of 2 + 3 min: the loader is the limit',
    'arithmetic: the loader serves 4 wafers every 5 min',
    furnace('B-14a', { tubes: 4, time: minutes(5), loading: minutes(2), unloading: minutes(3) }),
    WHOLE_LOADS,
    [throughput(LOAD / 5)],
  ),
  check(
    'B-14b',
    'two tubes of 12 h, a loader of 8 h, exponential: tubes wait for the loader',
    `two machines, one repairer: Hillier & Lieberman, Introduction to Operations Research, exercise ${INTERFERENCE}`,
    furnace('B-14b', { tubes: 2, time: exponential(12), loading: exponential(8) }),
    3e6,
    [
      throughput((0.6896551724137931 / 8) * LOAD),
      // At work, or with the loader.
      share('furnace', 'productive', 0.5172413793103449 + 0.6896551724137931 / 2),
    ],
  ),
  check(
    'B-14c',
    'six tubes of 10 (exponential), a loader of 1 (fixed)',
    `six machines, one repairer: Ashcroft 1950, Journal of the Royal Statistical Society B 12 ${INTERFERENCE}`,
    furnace('B-14c', { tubes: 6, time: exponential(10), loading: minutes(1) }),
    1e6,
    [
      throughput(0.5277855860162797 * LOAD),
      share('furnace', 'productive', 0.8796426433604659 + 0.5277855860162797 / 6),
    ],
  ),
]

export const CLOSED_LOOPS: readonly Check[] = [closedLoop, ...bestCase, beforeService, ...FURNACES]
