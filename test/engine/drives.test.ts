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
      const plan = compile(line)
      const key = { seed: 'drives', replication }
      const strict = runToEnd(new Run(plan, TICKS, key, 'strict'))
      const eager = runToEnd(new Run(plan, TICKS, key, 'eager'))
      expect(difference(strict, eager)).toBeUndefined()
      expect(audit(eager).faults).toEqual([])
    }),
    { numRuns, seed },
  )
}

test('both drives write the same books on random lines full of ties', () => {
  bothDrivesAgree(randomLine, RUNS, 20)
})

test('both drives write the same books with people, carriers, closing hours, time limits, a cap and boats', () => {
  bothDrivesAgree(richLine, Math.ceil(RUNS / 2), 20)
})
