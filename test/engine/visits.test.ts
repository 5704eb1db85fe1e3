import { expect, test } from 'vitest'
import perc from '../../scenarios/perc-line.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { checkLine } from '../../sim/line/check.ts'
import { compile } from '../../sim/plan/compile.ts'
import { TICKS_PER_HOUR } from '../../sim/plan/plan.ts'

/**
 * How often stations of the demo line are visited, and how often nobody can go on but in the
 * strict order: what the speed of the eager drive rests on, counted and not timed. The
 * limits are regression only, a quarter above what was counted (0.047 and 36).
 */
test('on the demo line a visit does many acts, and the strict order is hardly needed', () => {
  const { line } = checkLine(perc)
  if (!line) throw new Error('the demo line has problems')
  const run = new Run(compile(line), 12 * TICKS_PER_HOUR, { seed: 'visits', replication: 0 }, 'eager')
  let visits = 0
  let strict = 0
  for (const station of run.works.stations) {
    const advance = station.advance.bind(station)
    station.advance = (most, limit, knowsAll) => {
      if (knowsAll) strict++
      else visits++
      return advance(most, limit, knowsAll)
    }
  }
  runToEnd(run)
  expect(visits / run.waferSteps()).toBeLessThan(0.06)
  expect(strict).toBeLessThan(45)
})
