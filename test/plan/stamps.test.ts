import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Item, Line, Step, TimeLimit } from '../../sim/line/types.ts'
import { compile } from '../../sim/plan/compile.ts'
import type { Plan } from '../../sim/plan/plan.ts'
import { difference } from '../engine/digest.ts'

function step(name: string, after: readonly string[], more: Partial<Step> = {}): Step {
  const timeLimits = after.map(other => ({ after: other, atMost: '1 h', late: 'scrap' }) as const)
  return { step: name, cycle: '1 s', timeLimits, ...more }
}

/** Column of each step that a limit counts from, by name. */
function columnsOf(route: readonly Step[]): Record<string, number> {
  const plan = compile({ line: 'x', route })
  const columns = plan.stations.flatMap(station =>
    'stamp' in station && station.stamp >= 0 ? [[plan.steps[station.step], station.stamp] as const] : [],
  )
  expect(plan.stamps).toBe(Math.max(...columns.map(([, column]) => column)) + 1)
  for (const station of plan.stations)
    for (const limit of 'timeLimits' in station ? station.timeLimits : [])
      expect(limit.stamp).toBe(Object.fromEntries(columns)[plan.steps[limit.after]])
  return Object.fromEntries(columns)
}

test('limits that follow one another share a column of the wafer table', () => {
  expect(columnsOf([step('a', []), step('b', ['a']), step('c', ['b']), step('d', ['c'])])).toEqual({
    a: 0,
    b: 0,
    c: 0,
  })
})

test('one that spans another has its own, and so have two that end at the same step', () => {
  expect(columnsOf([step('a', []), step('b', ['a']), step('c', ['b']), step('d', ['a', 'c'])])).toEqual({
    a: 0,
    b: 1,
    c: 1,
  })
})

test('what is asked for again after rework is kept as long as a wafer may come back', () => {
  const back = { rework: { share: '1 %', to: 'b', atMost: 1 } } as const
  expect(columnsOf([step('a', []), step('b', ['a']), step('c', ['b']), step('d', ['c'], back)])).toEqual({
    a: 0,
    b: 1,
    c: 1,
  })
  // A step that does its own wafers again asks once more for what it has asked before, and notes nothing meanwhile.
  const again = { rework: { share: '1 %', to: 'b', atMost: 1 } } as const
  expect(columnsOf([step('a', []), step('b', ['a'], again), step('c', ['b'])])).toEqual({ a: 0, b: 0 })
})

test('a line without time limits has no column', () => {
  expect(compile({ line: 'x', route: [step('a', []), step('b', [])] }).stamps).toBe(0)
})

/** The same plan, with a column for each step. */
function apart(plan: Plan): Plan {
  const asked = new Set(plan.stations.flatMap(s => ('timeLimits' in s ? s.timeLimits.map(l => l.after) : [])))
  const columns = new Map([...asked].map((after, column) => [after, column] as const))
  const stations = plan.stations.map(station =>
    'timeLimits' in station
      ? {
          ...station,
          stamp: columns.get(station.step) ?? -1,
          timeLimits: station.timeLimits.map(limit => ({ ...limit, stamp: columns.get(limit.after) ?? -1 })),
        }
      : station,
  )
  return { ...plan, stations, stamps: asked.size }
}

/** Steps one after another, with rework and limits from any of them back to any before. */
const limited: fc.Arbitrary<Line> = fc
  .array(
    fc.record({
      seconds: fc.integer({ min: 1, max: 3 }),
      load: fc.integer({ min: 1, max: 4 }),
      rework: fc.option(fc.nat({ max: 2 }), { freq: 2 }),
      limits: fc.uniqueArray(fc.integer({ min: 1, max: 3 }), { maxLength: 2 }),
      late: fc.constantFrom('scrap', 'loses', 'back'),
      atMost: fc.integer({ min: 2, max: 30 }),
    }),
    { minLength: 4, maxLength: 7 },
  )
  .map(drawn => ({
    line: 'x',
    wafer: { area: '330 cm2', efficiency: { mean: '23 %' } },
    route: drawn.flatMap(({ seconds, load, rework, limits, late, atMost }, s): Item[] => {
      const before = (steps: number) => `step ${Math.max(0, s - steps)}`
      const whenLate = (steps: number): TimeLimit['late'] => {
        if (late === 'back') return { to: before(steps), atMost: 1 }
        return late === 'loses' ? { loses: '0.1 %' } : 'scrap'
      }
      return [
        { buffer: `before ${s}`, capacity: 6 },
        {
          step: `step ${s}`,
          ...(load > 1 ? { batch: { load, time: `${load * seconds} s` } } : { cycle: `${seconds} s` }),
          ...(rework !== null && { rework: { share: '10 %', to: before(rework), atMost: 2 } }),
          timeLimits: limits
            .filter(steps => steps <= s)
            .map(steps => ({ after: before(steps), atMost: `${atMost} s`, late: whenLate(steps) })),
        },
      ]
    }),
  }))

test('random lines with rework and late wafers do the same as with a column for each step', () => {
  let shared = 0
  fc.assert(
    fc.property(limited, value => {
      const { line, problems } = checkLine(value)
      expect(problems).toEqual([])
      const plan = compile(line as Line)
      const own = apart(plan)
      if (own.stamps <= plan.stamps) return
      shared++
      const run = (of: Plan) => runToEnd(new Run(of, 600e6, { seed: 'stamps', replication: 0 }, 'eager'))
      expect(difference(run(own), run(plan))).toBeUndefined()
    }),
    { numRuns: 200, seed: 3 },
  )
  expect(shared).toBeGreaterThan(50)
})
