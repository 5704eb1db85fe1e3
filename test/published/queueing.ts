import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import type { Line } from '../../sim/line/types.ts'
import { type Check, checksOf, type Figure, ONE_PERCENT } from './check.ts'
import {
  inBuffer,
  inLine,
  medianTimeInLine,
  p95TimeInLine,
  share,
  timeInBuffer,
  timeInLine,
  within,
} from './figures.ts'
import { erlang, exponential, minutes, queue } from './lines.ts'

/**
 * Single queues: Poisson or other arrivals, an endless queue, one step of one or more
 * tools. L and Lq of the texts are the wafers in the line and in its queue, W and Wq the
 * times there. Lq and Wq do not count the wafers in service.
 *
 * Left out, as a line has no such figure: the share of arrivals that wait (Q-03, Q-08,
 * Q-09), and the distribution of the number in the system beyond "none".
 */
const GROSS_HARRIS = 'Gross & Harris, Fundamentals of Queueing Theory, ch. 2'
const VAN_FOREEST = 'van Foreest, queueing theory course notes (2021)'
const MEMORY = '(value computed independently, citation from memory)'

/** L, Lq, W and Wq of a queue, in this order. */
function means([all, waiting, time, wait]: readonly [number, number, number, number]): Figure[] {
  return [inLine(all), inBuffer('queue', waiting), timeInLine(time), timeInBuffer('queue', wait)]
}

/** Lq and Wq. */
function waits([waiting, wait]: readonly [number, number]): Figure[] {
  return [inBuffer('queue', waiting), timeInBuffer('queue', wait)]
}

function arriving(every: Spread<Time>, name: string, server: Parameters<typeof queue>[2]): Line {
  return queue(name, { every }, server)
}

const check = checksOf('queueing')

export const QUEUES: readonly Check[] = [
  check(
    'Q-01',
    'M/M/1, utilisation 0.8',
    `${GROSS_HARRIS} ${MEMORY}`,
    arriving(exponential(1.25), 'M/M/1', { cycle: exponential(1) }),
    1.2e7,
    [
      ...within(ONE_PERCENT, means([4, 3.2, 5, 4])),
      ...within(ONE_PERCENT, [medianTimeInLine(3.4657359027997265), p95TimeInLine(14.978661367769954)]),
      share('server', 'productive', 0.8),
    ],
  ),
  check(
    'Q-02',
    'M/M/1, utilisation 0.5',
    `${GROSS_HARRIS} ${MEMORY}`,
    arriving(exponential(2), 'M/M/1 light', { cycle: exponential(1) }),
    2e7,
    [...means([1, 0.5, 2, 1]), share('server', 'starved', 0.5)],
  ),
  check(
    'Q-03',
    'M/M/3 (Erlang C), 5 arrivals and 3 x 2 services a minute',
    `${VAN_FOREEST}, M/M/c`,
    arriving(exponential(0.2), 'M/M/3', { cycle: exponential(0.5), tools: 3 }),
    3e6,
    [
      ...within(
        ONE_PERCENT,
        means([6.01123595505618, 3.51123595505618, 1.202247191011236, 0.702247191011236]),
      ),
      share('server', 'productive', 5 / 6),
    ],
  ),
  check(
    'Q-05',
    'M/D/1, utilisation 0.8',
    `Pollaczek-Khinchine; ${VAN_FOREEST}, M/G/1`,
    arriving(exponential(1.25), 'M/D/1', { cycle: minutes(1) }),
    7e6,
    [...within(ONE_PERCENT, means([2.4, 1.6, 3, 2])), share('server', 'starved', 0.2)],
  ),
  check(
    'Q-07',
    'M/G/1, lognormal service with cv 1.5, utilisation 0.7',
    `Pollaczek-Khinchine ${MEMORY}`,
    arriving(exponential(1 / 0.7), 'M/G/1', { cycle: { lognormal: minutes(1), cv: 1.5 } }),
    1e8,
    [
      inBuffer('queue', 2.6541666666666663),
      timeInBuffer('queue', 3.7916666666666665),
      timeInLine(4.791666666666666),
    ],
  ),
  check(
    'Q-08',
    'D/M/1, utilisation 0.8',
    `${GROSS_HARRIS} (G/M/1) ${MEMORY}`,
    arriving(minutes(1.25), 'D/M/1', { cycle: exponential(1) }),
    8e6,
    within(ONE_PERCENT, [...waits([1.3541846719359183, 1.6927308399198977]), timeInLine(2.6927308399198977)]),
  ),
  check(
    'Q-09',
    'Erlang-2/M/1, utilisation 0.8',
    `${GROSS_HARRIS} (G/M/1) ${MEMORY}`,
    arriving(erlang(2, 1.25), 'E2/M/1', { cycle: exponential(1) }),
    1.2e7,
    within(ONE_PERCENT, [...waits([2.2751838135919273, 2.843979766989909]), timeInLine(3.843979766989909)]),
  ),
  check(
    'Q-10',
    'M/D/2: two tools with a fixed time, utilisation 0.8',
    `Crommelin 1932, Post Office Electrical Engineers Journal 25 ${MEMORY}`,
    arriving(exponential(0.625), 'M/D/2', { cycle: minutes(1), tools: 2 }),
    3e6,
    [
      ...within(ONE_PERCENT, waits([1.4452542070489498, 0.9032838794055936])),
      share('server', 'productive', 0.8),
    ],
  ),
]
