import type { Item, Line, Step } from '../../sim/line/types.ts'
import type { PathCheck, PathFigures } from './check.ts'
import { CREW_PATHS } from './crew-paths.ts'
import { PathLine } from './observed-path.ts'
import { allAtOnce, arriving, replay } from './path-lines.ts'
import { SERIAL_PATHS } from './serial-paths.ts'

/**
 * Sample paths with given times and no chance in them: every time must agree exactly.
 * Times of the sources are seconds here. They do not depend on the order of events at
 * one instant.
 */
const ARITHMETIC = 'arithmetic by hand'

type Drive = 'strict' | 'eager'

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}

// ---- queues ----------------------------------------------------------------------

function queueLine(line: string, arrivals: readonly number[], server: Omit<Step, 'step'>): Line {
  const route: Item[] = [
    { buffer: 'queue', capacity: 'unlimited' },
    { step: 'server', ...server },
  ]
  return { line, feed: arriving(arrivals), route }
}

function waitsAndDepartures(line: Line, arrivals: readonly number[], drive: Drive): PathFigures {
  const path = new PathLine(line).run(1, drive)
  const waits = path.taken('server').map((time, job) => time - arrivals[job])
  return { waits, departures: path.handedOn('server'), 'sum of waits': sum(waits) }
}

const LINDLEY_ARRIVALS = [0, 3, 4, 8, 9, 15, 16, 17, 25, 26, 27, 40]
const LINDLEY = queueLine('Q-20', LINDLEY_ARRIVALS, { cycle: replay([4, 3, 5, 2, 4, 1, 6, 3, 2, 5, 4, 3]) })

const TWO_SERVER_ARRIVALS = [0, 1, 2, 3, 7, 8, 9, 14, 15, 16]
const TWO_SERVERS = queueLine('Q-21', TWO_SERVER_ARRIVALS, {
  tools: 2,
  cycle: replay([5, 4, 6, 3, 5, 2, 7, 4, 1, 6]),
})

const QUEUE_PATHS: readonly PathCheck[] = [
  {
    id: 'Q-20',
    family: 'queueing',
    what: 'one server, 12 jobs',
    source:
      'Lindley 1952, Proceedings of the Cambridge Philosophical Society 48 (values computed independently)',
    line: LINDLEY,
    expected: {
      waits: [0, 1, 3, 4, 5, 3, 3, 8, 3, 4, 8, 0],
      departures: [4, 7, 12, 14, 18, 19, 25, 28, 30, 35, 39, 43],
      'sum of waits': 42,
    },
    find: drive => waitsAndDepartures(LINDLEY, LINDLEY_ARRIVALS, drive),
  },
  {
    id: 'Q-21',
    family: 'queueing',
    what: 'two servers, first come first served, 10 jobs',
    source:
      'Kiefer & Wolfowitz 1955, Transactions of the American Mathematical Society 78 (values computed independently)',
    line: TWO_SERVERS,
    expected: {
      waits: [0, 0, 3, 2, 1, 3, 4, 0, 3, 3],
      // By job 5, 5, 11, 8, 13, 13, 20, 18, 19, 25; here in the order of time.
      departures: [5, 5, 8, 11, 13, 13, 18, 19, 20, 25],
      'sum of waits': 19,
    },
    find: drive => waitsAndDepartures(TWO_SERVERS, TWO_SERVER_ARRIVALS, drive),
  },
]

// ---- failures and loads ----------------------------------------------------------

function oneTool(
  id: string,
  stop: NonNullable<Step['stops']>[number],
  what: string,
  completions: readonly number[],
): PathCheck {
  const line: Line = { line: id, feed: allAtOnce(8), route: [{ step: 'tool', cycle: '10 s', stops: [stop] }] }
  return {
    id,
    family: 'unreliable lines',
    what,
    source: ARITHMETIC,
    line,
    expected: { completions },
    find: drive => ({ completions: new PathLine(line).run(1, drive).handedOn('tool') }),
  }
}

const FAILURE_PATHS: readonly PathCheck[] = [
  oneTool(
    'S-21',
    { stop: 'failure', every: replay([25, 38, 1]), lasts: replay([7, 12, 5]) },
    'a tool of 10 that fails after 25, 63 and 64 of operating time for 7, 12 and 5',
    [10, 20, 37, 47, 57, 67, 94, 104],
  ),
  oneTool(
    'S-22',
    // From the end of one stop to the next: 25, then 63 - 32, then never within the run.
    { stop: 'failure', counts: 'calendar time', every: replay([25, 31, 10_000]), lasts: replay([7, 12, 1]) },
    'the same tool failing at 25 and 63 by the clock, for 7 and 12',
    [10, 20, 37, 47, 57, 79, 89, 99],
  ),
]

const BATCH_ARRIVALS = [0, 2, 3, 7, 8.5, 9, 9.5, 12, 19, 21, 22, 29, 31, 33, 34, 35]

function batchPath(
  id: string,
  what: string,
  batch: { least?: number },
  tools: number,
  expected: PathFigures,
): PathCheck {
  const line = queueLine(id, BATCH_ARRIVALS, { tools, batch: { load: 4, time: '10 s', ...batch } })
  return {
    id,
    family: 'serial lines',
    what: `loads of 4 taking 10, 16 arrivals: ${what}`,
    source: ARITHMETIC,
    line,
    expected,
    find(drive) {
      // A short load starts half a microsecond after it is due, within the same half second.
      const path = new PathLine(line).run(0.5, drive)
      const taken = path.taken('server')
      const starts = [...new Set(taken)]
      const found: Record<string, number | number[]> = {
        starts,
        loads: starts.map(start => taken.filter(time => time === start).length),
        ends: [...new Set(path.handedOn('server'))],
        'sum of waits': sum(taken) - sum(BATCH_ARRIVALS),
      }
      return Object.fromEntries(Object.keys(expected).map(name => [name, found[name]]))
    },
  }
}

const BATCH_PATHS: readonly PathCheck[] = [
  batchPath('S-23a', 'full loads, one tube', {}, 1, {
    starts: [7, 17, 29, 39],
    ends: [17, 27, 39, 49],
    'sum of waits': 93,
  }),
  batchPath('S-23b', 'starts with one or more', { least: 1 }, 1, {
    starts: [0, 10, 20, 30, 40],
    loads: [1, 4, 4, 3, 4],
  }),
  batchPath('S-23c', 'starts with two or more', { least: 2 }, 1, {
    starts: [2, 12, 22, 32, 42],
    loads: [2, 4, 4, 3, 3],
  }),
  batchPath('S-23d', 'full loads, two tubes', {}, 2, {
    starts: [7, 12, 29, 35],
    ends: [17, 22, 39, 45],
    'sum of waits': 57,
  }),
]

export const SAMPLE_PATHS: readonly PathCheck[] = [
  ...QUEUE_PATHS,
  ...SERIAL_PATHS,
  ...FAILURE_PATHS,
  ...BATCH_PATHS,
  ...CREW_PATHS,
]
