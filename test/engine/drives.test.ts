import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import { audit } from '../../sim/engine/audit.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import type { Line, Step, Stop } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import { callingLine } from './calling-line.ts'
import { difference } from './digest.ts'
import { printLane } from './print-lane.ts'
import { randomLine } from './random-line.ts'
import { renewingLine } from './renewing-line.ts'
import { richLine } from './rich-line.ts'

/** Blocks end between any two wafers, or after dozens of them: loops run from one end of a block to the next. */
const SHORT_BLOCKS = 600e6
const LONG_BLOCKS = 7200e6

const RUNS = Number(process.env.LINEWRIGHT_RUNS ?? 600)
/** As long as so many lines may take [ms]. */
const PATIENCE = Math.max(180_000, 100 * RUNS)

function bothDrivesAgree(lines: fc.Arbitrary<Line>, numRuns: number, seed: number, ticks: number): void {
  fc.assert(
    fc.property(lines, fc.integer({ min: 0, max: 1000 }), (line, replication) => {
      agree(line, replication, ticks)
    }),
    { numRuns: Math.ceil(numRuns), seed },
  )
}

function agree(line: Line, replication: number, ticks = SHORT_BLOCKS): void {
  const plan = compile(line)
  const key = { seed: 'drives', replication }
  const strict = runToEnd(new Run(plan, ticks, key, 'strict'))
  const eager = runToEnd(new Run(plan, ticks, key, 'eager'))
  expect(difference(strict, eager)).toBeUndefined()
  expect(audit(eager).faults).toEqual([])
}

test.each([
  ['on random lines full of ties', randomLine, RUNS / 2],
  ['with people, carriers, closing hours, time limits, a cap and boats', richLine, RUNS / 3],
  ['on lanes of prints and belts, with full magazines', printLane, RUNS / 3],
  ['where quiet stops renew others, with people and a cap', renewingLine, RUNS / 6],
  ['whose tools call people and work on', callingLine, RUNS / 3],
])(
  'both drives write the same books %s',
  (_, lines, runs) => {
    bothDrivesAgree(lines, runs, 20, SHORT_BLOCKS)
    bothDrivesAgree(lines, runs / 2, 21, LONG_BLOCKS)
  },
  PATIENCE,
)

test('wafers that lose by being held up before few places', () => {
  const heldUp = { after: '3 s', loses: '0.5 %' } as const
  const wafer = { area: '330 cm2', efficiency: { mean: '23 %' } } as const
  const bins = { first: '18 %', width: '0.1 %', count: 60 } as const
  const tube: Line = {
    line: 'x',
    wafer,
    bins,
    route: [
      { buffer: 'before tube', capacity: 20 },
      { step: 'tube', batch: { load: 8, time: '20 s' }, heldUp },
      { buffer: 'before test', capacity: 3 },
      { step: 'test', cycle: '2 s', test: { noise: '0 %' } },
    ],
  }
  const tool: Line = {
    line: 'x',
    wafer,
    bins,
    route: [
      { step: 'in', cycle: '1 s' },
      { buffer: 'before quick', capacity: 20 },
      { step: 'quick', cycle: '1 s', heldUp },
      { buffer: 'before test', capacity: 3 },
      { step: 'test', cycle: { replayed: ['2 s', '9 s'] }, test: { noise: '0 %' } },
    ],
  }
  for (const line of [tube, tool]) agree(line, 0, LONG_BLOCKS)
})

test('of two belts that take at once the first hands over first, though the second has taken first', () => {
  agree(
    {
      line: 'x',
      wafer: { area: '330 cm2', efficiency: { mean: '23 %', sd: '0.2 %' } },
      bins: { first: '22 %', width: '0.1 %', count: 18 },
      route: [
        { buffer: 'before dip', capacity: 10 },
        { step: 'dip', batch: { load: 3, time: '10 s' } },
        { buffer: 'before wet', capacity: 8 },
        { step: 'wet', tools: 2, belt: { spacing: '1 s', transit: '5 s', whenFull: 'stop' } },
        { buffer: 'before test', capacity: 40, order: 'last in, first out' },
        { step: 'test', cycle: '1.9 s', test: { noise: '0.01 %' } },
      ],
    },
    0,
    LONG_BLOCKS,
  )
})

test('a belt that runs out hands over directly to a tool whose requests become void by a stop', () => {
  agree(
    {
      line: 'x',
      route: [
        { step: 'a', belt: { spacing: '2 s', transit: '9 s', whenFull: 'run out', keepFree: 1 } },
        { step: 'b', belt: { spacing: '2 s', transit: '5 s', whenFull: 'stop' } },
        {
          step: 'c',
          belt: { spacing: '2 s', transit: '8 s', whenFull: 'run out', tolerance: '2 s' },
          timeLimits: [{ after: 'a', atMost: '20 s', late: { to: 'a', atMost: 1 } }],
        },
        {
          step: 'tester',
          tools: 1,
          cycle: '1 s',
          rework: { share: '20 %', to: 'tester', atMost: 1, then: 'pass' },
          stops: [
            {
              stop: 'jam',
              counts: 'wafers',
              every: 7,
              lasts: '2 s',
              skill: 'fitter',
              waits: { until: 'shift change', atMost: '3 s' },
            },
          ],
        },
      ],
      calendar: {
        shifts: {
          early: { from: '00:00', to: '00:03', days: ['Mon'] },
          late: { from: '00:04', to: '00:08', days: ['Mon'] },
          rest: { from: '00:09', to: '00:00', days: ['Mon'] },
        },
        runDown: '15 s',
      },
      crews: { fitter: { heads: 2, reach: { uniform: ['0 s', '3 s'] } } },
    },
    14,
  )
})

test('a cap hears of wafers spoilt on a belt that is down with its first wafer at the end', () => {
  agree(
    {
      line: 'x',
      route: [
        {
          conveyor: 'to step 1',
          transit: '3 s',
          capacity: 4,
        },
        {
          step: 'step 1',
          tools: 1,
          stops: [
            {
              stop: 'stop 1',
              lasts: '2 s',
              counts: 'calendar time',
              every: '31 s',
              skill: 'operator',
            },
          ],
          belt: {
            spacing: '2 s',
            transit: '5 s',
            whenFull: 'stop',
            tolerance: '2 s',
            overProcessed: '50 %',
          },
        },
        {
          conveyor: 'to step 2',
          transit: '3 s',
          capacity: 4,
        },
        {
          step: 'step 2',
          tools: 1,
          belt: {
            spacing: '2 s',
            transit: '10 s',
            whenFull: 'run out',
          },
        },
        {
          buffer: 'before step 3',
          capacity: 4,
          leastDwell: '3 s',
        },
        {
          step: 'step 3',
          tools: 1,
          cycle: '2 s',
        },
        {
          step: 'lane step 1',
          tools: 1,
          belt: {
            spacing: '2 s',
            transit: '9 s',
            whenFull: 'stop',
            tolerance: '2 s',
            overProcessed: '50 %',
          },
        },
        {
          carriers: 'before lane step 2',
          holds: 3,
          number: 5,
          moved: {
            takes: '3 s',
            by: 'trolleys',
          },
        },
        {
          step: 'lane step 2',
          tools: 1,
          cycle: '2 s',
        },
      ],
      crews: {
        everyone: {
          heads: 3,
          skills: ['operator', 'fitter'],
          reach: '2 s',
        },
        fitters: {
          heads: 2,
          skills: ['fitter'],
          reach: {
            uniform: ['0 s', '3 s'],
          },
        },
      },
      fleets: {
        trolleys: {
          number: 2,
        },
      },
      cap: {
        wafers: 20,
      },
    },
    1916,
  )
})

test('a belt does not run ahead of a stop that waits for its moment and strikes when a wafer enters', () => {
  agree(
    {
      line: 'x',
      route: [
        { step: 'step 1', tools: 1, cycle: '2 s' },
        {
          step: 'late step 1',
          stops: [
            {
              stop: 'stop 1',
              lasts: '2 s',
              inside: { lose: [1, 3] },
              counts: 'wafers',
              every: 8,
              waits: { until: 'starved', atMost: '3 s' },
              setUpWafers: 3,
            },
          ],
          belt: { spacing: '2 s', transit: '6 s', whenFull: 'run out', tolerance: '2 s' },
        },
        { buffer: 'before late step 2', capacity: 3 },
        { step: 'late step 2', tools: 1, cycle: '5 s' },
      ],
    },
    4564,
  )
})

test('a cap on loads is not counted ahead while a boat has to be coated, which may change the boat that comes next', () => {
  agree(
    {
      line: 'x',
      route: [
        { buffer: 'before step 1', capacity: 2 },
        {
          step: 'step 1',
          tools: 2,
          batch: {
            load: 2,
            tubes: 3,
            time: '7 s',
            boats: { perTool: 3, cleaning: { every: 4, lasts: '12 s', coating: '5 s' } },
            cap: { wafers: 14, until: 'step 2' },
          },
        },
        { carriers: 'before step 2', holds: 2, number: 6, moved: { takes: '2 s' } },
        {
          step: 'step 2',
          tools: 2,
          cycle: '4 s',
          stops: [
            {
              stop: 'stop 1',
              lasts: { observed: ['5 s'] },
              counts: 'wafers',
              every: { geometric: 11.6 },
              setUpWafers: 3,
            },
            { stop: 'stop 2', lasts: { observed: ['5 s'] }, afterIdle: '30 s' },
          ],
        },
        { buffer: 'before step 3', capacity: 3 },
        { buffer: 'before late step 1', capacity: 5 },
        {
          step: 'late step 1',
          cycle: '5 s',
          stops: [
            { stop: 'stop 1', lasts: '4 s', afterIdle: '1 s' },
            { stop: 'stop 2', lasts: '5 s', counts: 'wafers', every: 14 },
          ],
          timeLimits: [{ after: 'step 2', atMost: '9 s', late: { to: 'step 2', atMost: 1 } }],
        },
        {
          step: 'tester',
          cycle: '1 s',
          test: {},
          stops: [
            { stop: 'jam', counts: 'calendar time', every: '13 s', lasts: '4 s', skill: 'fitter', people: 2 },
          ],
        },
      ],
      calendar: {
        shifts: {
          early: { from: '00:00', to: '00:03', breaks: [{ at: '00:01', lasts: '20 s' }] },
          late: { from: '00:04', to: '00:08' },
          rest: { from: '00:09', to: '00:00' },
        },
      },
      crews: {
        everyone: { heads: { early: 1, late: 3, rest: 1 }, skills: ['operator', 'fitter'] },
        fitters: { heads: 2, skills: ['fitter'], reach: { uniform: ['0 s', '3 s'] } },
      },
      cap: { wafers: 20 },
      wafer: { area: '330 cm2', efficiency: { mean: '23 %' } },
      bins: {
        first: '22 %',
        width: '0.1 %',
        count: 12,
        boxes: { holds: 1, swap: { lasts: '6 s', skill: 'operator', priority: 1 } },
      },
    },
    8,
    LONG_BLOCKS,
  )
})

test('a cap takes the departures of several stations in the order of time', () => {
  const line: Line = {
    line: 'x',
    cap: { wafers: 7 },
    route: [
      { step: 'a', cycle: '2 s', reject: '30 %' },
      { buffer: 'before b', capacity: 9 },
      { step: 'b', tools: 2, cycle: { uniform: ['2 s', '5 s'] }, reject: '20 %' },
      { buffer: 'before c', capacity: 9 },
      { step: 'c', tools: 3, cycle: { uniform: ['3 s', '9 s'] } },
    ],
  }
  for (let replication = 0; replication < 20; replication++) agree(line, replication, LONG_BLOCKS)
})

test.each(['least full', 'in turn'] as const)(
  'wafers go to lanes (%s) of which not all takes are known yet',
  split => {
    const line: Line = {
      line: 'x',
      feed: { every: { exponential: '9 s' }, carrier: 6, whenFull: 'wait' },
      route: [
        { buffer: 'before lanes', capacity: 12 },
        {
          group: 'lanes',
          split,
          lanes: ['A', 'B', 'C'],
          each: [
            { buffer: 'before print', capacity: 4 },
            { step: 'print', cycle: { exponential: '4 s' } },
          ],
        },
      ],
    }
    for (let replication = 0; replication < 20; replication++) agree(line, replication, LONG_BLOCKS)
  },
)

/** A flip hands its wafers straight to a print; behind a few places a furnace, whose takes are foretold. */
const straight = (furnace: Partial<Step>, capacity: number, cycle: Time, every?: Spread<Time>): Line => ({
  line: 'x',
  ...(every && { feed: { every } }),
  route: [
    { buffer: 'magazine', capacity: 60 },
    { step: 'flip', belt: { spacing: '1 s', transit: '4 s', whenFull: 'stop' } },
    { step: 'print', cycle },
    { buffer: 'before furnace', capacity },
    { step: 'furnace', belt: { spacing: '4 s', transit: '20 s', whenFull: 'run out' }, ...furnace },
    { buffer: 'before test', capacity: 40 },
    { step: 'test', cycle: '1 s' },
  ],
})
const late = (after: string): Partial<Step> => ({ timeLimits: [{ after, atMost: '6 s', late: 'scrap' }] })
const dummies: Stop = { stop: 'dummies', afterIdle: '1.5 s', lasts: '25 s', kind: 'scheduled' }

test.each([
  ['scraps late ones', straight(late('print'), 5, '1.1 s')],
  ['scraps those late since the flip', straight(late('flip'), 1, '1.1 s')],
  ['stops after idleness', straight({ stops: [dummies] }, 1, '4.5 s', { exponential: '6 s' })],
])('wafers are handed straight on before a furnace that %s', (_, line) => {
  for (let replication = 0; replication < 4; replication++) agree(line, replication, 72_000e6)
})
