import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ActivePeriods } from '../../sim/engine/active.ts'
import { BLOCKED, PRODUCTIVE, STARVED, UNSCHEDULED_DOWN } from '../../sim/engine/meter.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { activeRows, recordActive } from '../../sim/measure/active.ts'
import { compile } from '../../sim/plan/compile.ts'
import { difference } from './digest.ts'
import { randomLine } from './random-line.ts'

const TICKS = 600e6

describe('active periods', () => {
  it('give each stretch to the longest period that goes on', () => {
    const record = new ActivePeriods()
    expect(record.add(2)).toBe(0)
    // Tool 0 is active from 0 to 60, tool 1 from 40 to 100 (a repair in between), then from 110 to 120.
    record.held(0, PRODUCTIVE, 0, 60)
    record.held(0, STARVED, 60, 120)
    record.held(1, BLOCKED, 0, 40)
    record.held(1, PRODUCTIVE, 40, 70)
    record.held(1, UNSCHEDULED_DOWN, 70, 80)
    record.held(1, PRODUCTIVE, 80, 100)
    record.held(1, STARVED, 100, 110)
    record.held(1, PRODUCTIVE, 110, 120)
    // Both last 60: in 40 to 60 the earlier one holds.
    const { ticks, shifts } = record.shares([0, 1], [0, 50, 120])
    expect([...ticks]).toEqual([50, 0, 10, 50])
    expect([...shifts]).toEqual([0, 1])
  })

  it('go on through a wait of no length, and are shared by tools that are active alike', () => {
    const record = new ActivePeriods()
    record.add(3)
    record.held(0, PRODUCTIVE, 0, 30)
    record.held(0, STARVED, 30, 30)
    record.held(0, PRODUCTIVE, 30, 100)
    record.held(1, PRODUCTIVE, 0, 100)
    record.held(2, PRODUCTIVE, 10, 90)
    expect([...record.shares([0, 1, 1], [0, 100]).ticks]).toEqual([50, 50])
  })

  it('are all waiting: nobody holds the line', () => {
    const record = new ActivePeriods()
    record.add(1)
    record.held(0, STARVED, 0, 100)
    expect([...record.shares([0], [0, 100]).ticks]).toEqual([0])
  })

  it('of a belt are the slots of its infeed', () => {
    // A wafer each 3 s through the belt, worked on for 1 s behind it: the belt never waits, the tool does.
    const plan = compile({
      line: 'belt first',
      route: [
        { step: 'belt', belt: { spacing: '3 s', transit: '9 s' } },
        { buffer: 'between', capacity: 20 },
        { step: 'tool', cycle: '1 s' },
      ],
    })
    const run = new Run(plan, TICKS, { seed: '1', replication: 0 }, 'eager')
    const record = recordActive(run)
    const { ticks, owners } = activeRows(plan, runToEnd(run), record)
    const share = (owner: number) =>
      ticks.reduce((sum, one, cell) => (cell % owners === owner ? sum + one : sum), 0) / TICKS
    expect(share(0)).toBeGreaterThan(0.99)
    expect(share(1)).toBe(0)
  })

  it('are the same in both drives, and change no book', () => {
    const both = fc.property(randomLine, fc.integer({ min: 0, max: 1000 }), (random, replication) => {
      const plan = compile(random)
      const key = { seed: 'active', replication }
      const [strict, eager] = (['strict', 'eager'] as const).map(drive => {
        const run = new Run(plan, TICKS, key, drive)
        const record = recordActive(run)
        runToEnd(run)
        return { run, rows: activeRows(plan, run, record) }
      })
      expect(difference(strict.run, eager.run)).toBeUndefined()
      expect(difference(runToEnd(new Run(plan, TICKS, key, 'eager')), eager.run)).toBeUndefined()
      expect(eager.rows).toEqual(strict.rows)
      const total = eager.rows.ticks.reduce((sum, one) => sum + one, 0)
      expect(total).toBeLessThanOrEqual(TICKS * (1 + 1e-9))
    })
    fc.assert(both, { numRuns: 150, seed: 21 })
  })
})
