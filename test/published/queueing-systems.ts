import type { Line, Step } from '../../sim/line/types.ts'
import { type Check, checksOf, ONE_PERCENT } from './check.ts'
import {
  inBuffer,
  inLine,
  share,
  starts,
  throughput,
  timeInBuffer,
  timeInLine,
  turnedAway,
  within,
} from './figures.ts'
import { exponential, minutes, queue } from './lines.ts'

/**
 * Queues with an end to their places, carriers, breakdowns, rework, two steps in a row,
 * and loads (bulk service).
 *
 * K of M/M/1/K counts the one in service: its buffer has K - 1 places. Where a source
 * speaks of hours, an hour is a minute here.
 */
const GROSS_HARRIS = 'Gross & Harris, Fundamentals of Queueing Theory, ch. 2'
const VAN_FOREEST = 'van Foreest, queueing theory course notes (2021)'
const MEMORY = '(value computed independently, citation from memory)'

const check = checksOf('queueing')

/** Wafers that find no place are turned away. */
function lossQueue(line: string, arriving: number, places: number, server: Omit<Step, 'step'>): Line {
  return {
    line,
    feed: { every: exponential(1 / arriving), whenFull: 'turn away' },
    route: [
      { buffer: 'queue', capacity: places },
      { step: 'server', ...server },
    ],
  }
}

const LOSS: readonly Check[] = [
  check(
    'Q-11',
    'M/M/1/5, arrivals at 0.8 of the service rate',
    `${GROSS_HARRIS} ${MEMORY}`,
    lossQueue('M/M/1/5', 0.8, 4, { cycle: exponential(1) }),
    1.2e7,
    [
      turnedAway(0.8, 0.08881949865556424),
      throughput(0.7289444010755486),
      inLine(1.8683320322664587),
      timeInLine(2.563065207044265),
      share('server', 'starved', 0.27105559892445136),
    ],
  ),
  check(
    'Q-12',
    'M/M/1/4, arrivals at the service rate',
    `${GROSS_HARRIS} ${MEMORY}`,
    lossQueue('M/M/1/4', 1, 3, { cycle: exponential(1) }),
    5e6,
    [turnedAway(1, 0.2), throughput(0.8), inLine(2)],
  ),
  ...(
    [
      ['fixed', minutes(1)],
      ['exponential', exponential(1)],
      ['lognormal (cv 1)', { lognormal: minutes(1), cv: 1 }],
    ] as const
  ).map(([law, cycle], index) =>
    check(
      `Q-13${'abc'[index]}`,
      `M/G/3/3 without places to wait, ${law} service: the same loss for every law`,
      `Erlang B; insensitivity: Sevast'yanov 1957; ${VAN_FOREEST} ${MEMORY}`,
      lossQueue('M/G/3/3', 2, 0, { cycle, tools: 3 }),
      2e6,
      [turnedAway(2, 0.21052631578947367), throughput(1.5789473684210527)],
    ),
  ),
]

const CARRIERS: readonly Check[] = [
  check(
    'Q-14a',
    'carriers of 1, 2 or 3 wafers, one carrier an hour, 25 min a wafer',
    `${VAN_FOREEST}, M[X]/M/1, worked exercise`,
    queue(
      'carriers',
      { every: exponential(1), carrier: { observed: [1, 2, 3] } },
      { cycle: exponential(25 / 60) },
    ),
    1e7,
    within(ONE_PERCENT, [inLine(8.333333333333334)]),
  ),
  check(
    'Q-14b',
    'carriers of 2 wafers, one carrier an hour, 25 min a wafer',
    `${VAN_FOREEST}, M[X]/M/1, worked exercise`,
    queue('carriers of 2', { every: exponential(1), carrier: 2 }, { cycle: exponential(25 / 60) }),
    8e6,
    within(ONE_PERCENT, [inLine(7.5)]),
  ),
]

const GENERAL: readonly Check[] = [
  check(
    'Q-06a',
    'M/G/1: 3 jobs in 8 h, lognormal of mean 2 h and squared cv 0.5 (any law gives the same)',
    `${VAN_FOREEST}, M/G/1, worked exercise`,
    queue('jobs', { every: exponential(8 / 3) }, { cycle: { lognormal: minutes(2), cv: Math.SQRT1_2 } }),
    6e7,
    [timeInBuffer('queue', 4.5), timeInLine(6.5), share('server', 'productive', 0.75)],
  ),
  check(
    'Q-06b',
    'M/D/1: 3 jobs in 8 h, 2 h each',
    `${VAN_FOREEST}, M/G/1, worked exercise`,
    queue('equal jobs', { every: exponential(8 / 3) }, { cycle: minutes(2) }),
    2.2e7,
    [timeInBuffer('queue', 3)],
  ),
]

/** Stops that strike a server up for 20 min on average for 5 min: by the calendar or only while it works. */
function breaking(counts: 'running time' | 'calendar time'): Line {
  const stop = { stop: 'failure', counts, every: exponential(20), lasts: exponential(5) }
  return queue(
    `M/M/1 with failures by ${counts}`,
    { every: exponential(1 / 0.6) },
    { cycle: exponential(1), stops: [stop] },
  )
}

const BREAKDOWNS: readonly Check[] = [
  check(
    'Q-15',
    'M/D/1 with failures while it works: 4/h, 10 min, up 3 h, down 0.5 h',
    `${VAN_FOREEST}, server failures, worked exercise`,
    queue(
      'failing server',
      { every: exponential(1 / 4) },
      {
        cycle: minutes(1 / 6),
        stops: [{ stop: 'failure', every: exponential(3), lasts: exponential(0.5) }],
      },
    ),
    1.2e7,
    [
      timeInBuffer('queue', 0.5902777777777778),
      timeInLine(0.7847222222222222),
      // Utilisation 0.7777778 with the failures, of which the availability 0.8571429 is work.
      share('server', 'productive', 0.7777777777777778 * 0.8571428571428571),
      share('server', 'unscheduledDown', 0.7777777777777778 * (1 - 0.8571428571428571)),
    ],
  ),
  check(
    'Q-16a',
    'M/M/1 with failures by the calendar',
    `White & Christie 1958, Operations Research 6 ${MEMORY}`,
    breaking('calendar time'),
    7e7,
    [inLine(5.4), share('server', 'unscheduledDown', 0.2)],
  ),
  check(
    'Q-16b',
    'M/M/1 with failures while it works',
    `White & Christie 1958, Operations Research 6 ${MEMORY}`,
    breaking('running time'),
    9e7,
    [inLine(4.8)],
  ),
]

const NETWORKS: readonly Check[] = [
  check(
    'Q-18',
    'two M/M/1 in a row, services 1 and 0.9 a minute, arrivals 0.7',
    `Burke 1956, Jackson 1957; ${VAN_FOREEST}, open networks`,
    {
      line: 'tandem',
      feed: { every: exponential(1 / 0.7) },
      route: [
        { buffer: 'first queue', capacity: 'unlimited' },
        { step: 'first', cycle: exponential(1) },
        { buffer: 'second queue', capacity: 'unlimited' },
        { step: 'second', cycle: exponential(1 / 0.9) },
      ],
    },
    5e7,
    [
      timeInLine(8.333333333333334),
      inLine(2.3333333333333335 + 3.5),
      // The numbers at each step, less the one that it works on.
      inBuffer('first queue', 2.3333333333333335 - 0.7),
      inBuffer('second queue', 3.5 - 0.7 / 0.9),
    ],
  ),
  check(
    'Q-19',
    'a fifth goes back to the same queue, without end (here at most 100 times: 1e-70 of all)',
    `Jackson 1957, Operations Research 5 ${MEMORY}`,
    queue(
      'rework',
      { every: exponential(1 / 0.6) },
      { cycle: exponential(1), rework: { share: '20 %', to: 'server', atMost: 100, then: 'pass' } },
    ),
    3.5e7,
    [
      starts('server', 0.75),
      share('server', 'productive', 0.75),
      inLine(3),
      timeInLine(5),
      // Passes per wafer: starts over arrivals, 1.25 x 0.6.
      throughput(0.6),
    ],
  ),
]

/** Poisson arrivals at 0.3 a minute to loads of up to 4 that take 10 min. */
function loads(line: string, least: number): Line {
  return queue(line, { every: exponential(1 / 0.3) }, { batch: { load: 4, least, time: minutes(10) } })
}

const BULK = `Bailey 1954, Neuts 1967; Chaudhry & Templeton 1983 ${MEMORY}`

const LOADS: readonly Check[] = [
  check('Q-27', 'tube with full loads of 4 only', BULK, loads('full loads', 4), 2e7, [
    inBuffer('queue', 2.300883479780397),
    timeInBuffer('queue', 7.6696115992679905),
    share('server', 'starved', 0.25),
  ]),
  check('Q-28', 'tube that starts with what waits, up to 4', BULK, loads('short loads', 1), 3e7, [
    inBuffer('queue', 2.275281869686702),
    timeInBuffer('queue', 7.584272898955673),
    share('server', 'starved', 0.01112686075527111),
  ]),
  check(
    'Q-29',
    'exponential loads of up to 2, 12 an hour, arrivals 20 an hour: who comes after the start waits for the next load',
    `Gross & Harris, Fundamentals of Queueing Theory, bulk service; embedded chain at the ends of loads ${MEMORY}`,
    queue(
      'loads of two',
      { every: exponential(1 / 20) },
      { batch: { load: 2, least: 1, time: exponential(1 / 12) } },
    ),
    7e5,
    within(ONE_PERCENT, [inBuffer('queue', 7.1570585691), timeInBuffer('queue', 7.1570585691 / 20)]),
  ),
]

export const QUEUEING_SYSTEMS: readonly Check[] = [
  ...GENERAL,
  ...LOSS,
  ...CARRIERS,
  ...BREAKDOWNS,
  ...NETWORKS,
  ...LOADS,
]
