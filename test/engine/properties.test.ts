import fc from 'fast-check'
import { expect, test } from 'vitest'
import { audit } from '../../sim/engine/audit.ts'
import { GOOD } from '../../sim/engine/meter.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import type { Line } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import { difference } from './digest.ts'
import { randomLine } from './random-line.ts'

const TICKS = 600e6

function runOf(line: Line, drive: 'strict' | 'eager' = 'eager', ticks = TICKS): Run {
  return runToEnd(new Run(compile(line), ticks, { seed: 'properties', replication: 0 }, drive))
}

function goodOf(run: Run): number {
  return run.works.stations.reduce((sum, { meter }) => sum + meter.counter[GOOD], 0)
}

test("no wafer is lost from the books, states fill the run, and Little's law holds", () => {
  fc.assert(
    fc.property(randomLine, line => {
      expect(audit(runOf(line)).faults).toEqual([])
    }),
    { numRuns: 200, seed: 2 },
  )
})

test('the same seed gives the same books, another replication others', () => {
  fc.assert(
    fc.property(randomLine, line => {
      expect(difference(runOf(line), runOf(line))).toBeUndefined()
    }),
    { numRuns: 50, seed: 3 },
  )
  const line: Line = { line: 'random', route: [{ step: 'only', cycle: { exponential: '2 s' } }] }
  const other = runToEnd(new Run(compile(line), TICKS, { seed: 'properties', replication: 1 }, 'eager'))
  expect(difference(runOf(line), other)).toBeDefined()
})

const cycle = fc.oneof(
  fc.integer({ min: 1, max: 6 }).map(n => `${n} s` as const),
  fc.constant({ exponential: '3 s' } as const),
  fc.constant({ uniform: ['1 s', '5 s'] } as const),
)
const serial = fc
  .array(
    fc.record({ tools: fc.integer({ min: 1, max: 3 }), cycle, capacity: fc.integer({ min: 0, max: 4 }) }),
    {
      minLength: 2,
      maxLength: 5,
    },
  )
  .chain(steps =>
    fc.record({
      steps: fc.constant(steps),
      longer: fc.integer({ min: 1, max: steps.length - 1 }),
      by: fc.integer({ min: 1, max: 3 }),
    }),
  )

function serialLine(steps: readonly { tools: number; cycle: never; capacity: number }[]): Line {
  return {
    line: 'serial',
    route: steps.flatMap(({ tools, cycle, capacity }, i) => [
      ...(i > 0 ? [{ buffer: `before ${i}`, capacity }] : []),
      { step: `step ${i}`, tools, cycle },
    ]),
  }
}

// Buzacott and Shanthikumar (1993), Stochastic Models of Manufacturing Systems (from memory):
// throughput of a serial line of single tools, blocked after service, does not fall when a place is added.
test('a longer buffer never lowers the output of a serial line of single tools on common streams', () => {
  fc.assert(
    fc.property(serial, ({ steps, longer, by }) => {
      const single = steps.map(step => ({ ...step, tools: 1, cycle: step.cycle as never }))
      const more = single.map((step, i) => (i === longer ? { ...step, capacity: step.capacity + by } : step))
      expect(goodOf(runOf(serialLine(more)))).toBeGreaterThanOrEqual(goodOf(runOf(serialLine(single))))
    }),
    { numRuns: 300, seed: 4 },
  )
})

test('a change that does nothing changes nothing', () => {
  fc.assert(
    fc.property(serial, ({ steps, longer }) => {
      const line = serialLine(steps.map(step => ({ ...step, cycle: step.cycle as never })))
      const never = { stop: 'never', counts: 'calendar time', every: '36000 d', lasts: '1 s' } as const
      const idle: Line = {
        ...line,
        route: line.route.map(item =>
          'step' in item && item.step === `step ${longer}` ? { ...item, stops: [never] } : item,
        ),
      }
      const [a, b] = [runOf(line), runOf(idle)]
      expect(b.works.stations.map(s => [...s.meter.countRows])).toEqual(
        a.works.stations.map(s => [...s.meter.countRows]),
      )
      expect(b.works.stations.map(s => [...s.meter.stateRows])).toEqual(
        a.works.stations.map(s => [...s.meter.stateRows]),
      )
    }),
    { numRuns: 100, seed: 5 },
  )
})

test('a tool more leaves the draws of the others as they were', () => {
  const step = (tools: number): Line => ({
    line: 'tools',
    route: [
      {
        step: 'only',
        tools,
        cycle: '10 s',
        stops: [{ stop: 'jam', every: { exponential: '40 s' }, lasts: { exponential: '5 s' } }],
      },
    ],
  })
  const stops = (line: Line) => [...runOf(line).works.stations[0].meter.state].slice(0, 16)
  expect(stops(step(3))).toEqual(stops(step(2)))
})

test.each([
  ['tool', { cycle: '1 s' }],
  ['tools', { cycle: '2 s', tools: 2 }],
  ['belt', { belt: { spacing: '1 s', transit: '5 s', whenFull: 'stop' } }],
  ['belts', { tools: 2, belt: { spacing: '2 s', transit: '5 s', whenFull: 'run out' } }],
  ['tube', { batch: { load: 100, time: '100 s' } }],
] as const)('the table of wafers grows while a %s fills the line, and no wafer loses its time', (_, step) => {
  const line: Line = {
    line: 'filling',
    route: [
      { step: 'first', ...step },
      { buffer: 'b', capacity: 5000 },
      { step: 'slow', cycle: '10 s' },
    ],
  }
  const run = runOf(line, 'eager', 5000e6)
  expect(audit(run).inside).toBeGreaterThan(4000)
  expect(audit(run).faults).toEqual([])
})

test('memory does not grow with simulated time', () => {
  const line: Line = {
    line: 'long',
    route: [
      { step: 'a', cycle: '2 s' },
      { buffer: 'b', capacity: 20 },
      { step: 'c', cycle: { exponential: '2 s' } },
    ],
  }
  const size = (ticks: number) => runOf(line, 'eager', ticks).works.wafers.birth.length
  expect(size(600e9)).toBe(size(600e6))
})
