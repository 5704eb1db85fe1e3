import fc from 'fast-check'
import { expect, test } from 'vitest'
import { audit } from '../../sim/engine/audit.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import type { Line } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import { difference } from './digest.ts'
import { randomLine } from './random-line.ts'
import { richLine } from './rich-line.ts'

const TICKS = 600e6

const RUNS = Number(process.env.LINEWRIGHT_RUNS ?? 600)

function bothDrivesAgree(lines: fc.Arbitrary<Line>, numRuns: number, seed: number): void {
  fc.assert(
    fc.property(lines, fc.integer({ min: 0, max: 1000 }), (line, replication) => {
      agree(line, replication)
    }),
    { numRuns, seed },
  )
}

function agree(line: Line, replication: number): void {
  const plan = compile(line)
  const key = { seed: 'drives', replication }
  const strict = runToEnd(new Run(plan, TICKS, key, 'strict'))
  const eager = runToEnd(new Run(plan, TICKS, key, 'eager'))
  expect(difference(strict, eager)).toBeUndefined()
  expect(audit(eager).faults).toEqual([])
}

test('both drives write the same books on random lines full of ties', () => {
  bothDrivesAgree(randomLine, RUNS, 20)
})

test('both drives write the same books with people, carriers, closing hours, time limits, a cap and boats', () => {
  bothDrivesAgree(richLine, Math.ceil(RUNS / 2), 20)
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
