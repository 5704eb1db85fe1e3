import type { Item, Line, Step } from '../../sim/line/types.ts'
import { type Check, checksOf, type Figure, type RunLength } from './check.ts'
import { equipment, goodShare, inLine, share, starts, throughput, timeInLine } from './figures.ts'

/**
 * Capacity arithmetic, simulated as one step that always has wafers before it and room
 * behind it. Plain arithmetic, no source needed unless named; the same figures on paper
 * are tested beside the capacity table. Wafers an hour.
 */
const ARITHMETIC = 'arithmetic'

const simulated = checksOf('capacity')

function check(
  id: string,
  what: string,
  step: Omit<Step, 'step'>,
  length: number | RunLength,
  figures: Figure[],
): Check {
  // A load needs a place to stand before it; a buffer of one load for each tube never keeps a tube waiting.
  const store: Item[] = step.batch ? [{ buffer: 'store', capacity: 4 * step.batch.load }] : []
  const line: Line = { line: id, route: [...store, { step: 'tools', ...step }] }
  return simulated(id, what, ARITHMETIC, line, length, figures)
}

const perHour = (expected: number) => throughput(expected, 'hour')

/** 4 tubes, 1200 wafers, 55 min and 5 min of handling. */
const BANK = { load: 1200, time: '55 min', loading: '2 min', unloading: '3 min' } as const

/** Nothing is left to chance: ten replications, in 50 blocks of two hours, so that each block has whole loads. */
const WHOLE_LOADS = { days: 100 / 24, replications: 10 }

/**
 * 100 loads of 185 wafers in 480 min, each 4.08 min in a tube for 204: 408 min of
 * production, 0.02 min planned for a wafer, 18 500 wafers of which 18 130 are good.
 */
const SHORT_LOADS: Line = {
  line: 'B-07',
  feed: { every: '4.8 min', carrier: 185 },
  route: [
    { buffer: 'store', capacity: 'unlimited' },
    { step: 'tools', batch: { load: 204, least: 1, time: '4.08 min' }, reject: '2 %' },
  ],
}

export const CAPACITY: readonly Check[] = [
  check(
    'B-01a',
    'four tubes of 1200 wafers, 55 min and 5 min of handling each',
    { tools: 4, batch: BANK },
    WHOLE_LOADS,
    [perHour(4800), share('tools', 'productive', 1)],
  ),
  check(
    'B-01b',
    'the same, up for 0.93 of the time',
    {
      tools: 4,
      batch: BANK,
      // Counted while a load is processed, 55 of 60 min: 93 min of time up, then 7 min down.
      stops: [
        { stop: 'failure', every: { exponential: `${(93 * 55) / 60} min` }, lasts: { exponential: '7 min' } },
      ],
    },
    120_000,
    [perHour(4464)],
  ),
  check(
    'B-01c',
    'four tubes of 1200 wafers behind one loader of 5 min a load: the loader is the limit',
    { batch: { ...BANK, time: '1 min', tubes: 4 } },
    WHOLE_LOADS,
    [perHour(14_400)],
  ),
  check(
    'B-02',
    'three tools of 1.2 s, up for 0.95 of the time, 0.2 % rejected',
    {
      tools: 3,
      cycle: '1.2 s',
      reject: '0.2 %',
      stops: [{ stop: 'jam', every: { exponential: '19 min' }, lasts: { exponential: '1 min' } }],
    },
    100_000,
    [
      starts('tools', 8550, 'hour'),
      perHour(8532.9),
      goodShare(0.998),
      share('tools', 'unscheduledDown', 0.05),
    ],
  ),
  check(
    'B-03',
    'belt of 6.6 m at 6 m/min, 2 lanes, pitch 0.2 m',
    { belt: { length: '6.6 m', speed: '6 m/min', pitch: '0.2 m', lanes: 2 } },
    { days: 1, replications: 10 },
    [perHour(3600), inLine(66), timeInLine(1.1)],
  ),
  simulated(
    'B-07',
    'planned busy 480 min, production 408 min, 18 500 wafers of 0.02 min, 18 130 of them good',
    'ISO 22400-2: availability, effectiveness and quality ratio, as an OPC UA companion specification quotes them',
    SHORT_LOADS,
    // Each of the 50 blocks has twenty loads.
    { days: (50 * 20 * 4.8) / 1440, replications: 10 },
    [
      equipment('tools', 'availability', 0.85),
      equipment('tools', 'performance', 0.9068627450980392),
      equipment('tools', 'quality', 0.98),
      equipment('tools', 'oee', 0.7554166666666667),
    ],
  ),
  ...(
    [
      ['B-05a', 'rework of 8 % without end (here at most 100 times)', 100, 1.0869565217391304],
      ['B-05b', 'rework of 8 %, once only', 1, 1.08],
      ['B-05c', 'rework of 8 %, twice at most', 2, 1.0864],
    ] as const
  ).map(([id, what, atMost, passes]): Check => {
    const rework = { share: '8 %', to: 'tools', atMost, then: 'pass' } as const
    const line: Line = {
      line: id,
      feed: { every: { exponential: '1 s' } },
      route: [
        { buffer: 'queue', capacity: 'unlimited' },
        { step: 'tools', tools: 2, cycle: '1 s', rework },
      ],
    }
    // Passes per wafer, from 3600 wafers an hour.
    const figures = [starts('tools', 3600 * passes, 'hour'), perHour(3600)]
    return simulated(id, what, ARITHMETIC, line, 20_000, figures)
  }),
]
