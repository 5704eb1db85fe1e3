import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { compile } from '../../sim/plan/compile.ts'
import { difference } from './digest.ts'
import { randomLine } from './random-line.ts'

const TICKS = 600e6

test('both drives write the same books on random lines full of ties', () => {
  fc.assert(
    fc.property(randomLine, fc.integer({ min: 0, max: 1000 }), (line, replication) => {
      const plan = compile(line)
      const key = { seed: 'drives', replication }
      const strict = runToEnd(new Run(plan, TICKS, key, 'strict'))
      const eager = runToEnd(new Run(plan, TICKS, key, 'eager'))
      expect(difference(strict, eager)).toBeUndefined()
    }),
    { numRuns: Number(process.env.LINEWRIGHT_RUNS ?? 600), seed: 20 },
  )
})
