import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { FINE_BLOCKS } from '../../sim/engine/blocks.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { ToolStation } from '../../sim/engine/tool-station.ts'
import { type Recording, record } from '../../sim/measure/recording.ts'
import { rowsOf } from '../../sim/measure/rows.ts'
import { compile } from '../../sim/plan/compile.ts'
import { difference } from '../engine/digest.ts'
import { randomLine } from '../engine/random-line.ts'
import { richLine } from '../engine/rich-line.ts'

// No expected value is typed in here: a recording is held against the books of a run nobody looked at.

const TICKS = 600e6
const EVERY = 6
const anyLine = fc.oneof(randomLine, richLine)
const STRETCH = { startHours: 60 / 3600, everySeconds: EVERY, samples: 90 }

describe('a recording', () => {
  it('is the same whichever drive made it, and leaves the run as it was', () => {
    fc.assert(
      fc.property(anyLine, fc.integer({ min: 0, max: 1000 }), (line, replication) => {
        const plan = compile(line)
        const key = { seed: 'recording', replication }
        const [eager, strict] = (['eager', 'strict'] as const).map(drive => new Run(plan, TICKS, key, drive))
        expect(record(plan, eager, STRETCH)).toEqual(record(plan, strict, STRETCH))
        eager.runTo(eager.blocks.horizon)
        expect(difference(runToEnd(new Run(plan, TICKS, key, 'eager')), eager)).toBeUndefined()
      }),
      { numRuns: 100, seed: 7 },
    )
  })

  it('has the wafers that the books of the run have at the same ticks', () => {
    fc.assert(
      fc.property(anyLine, line => {
        const plan = compile(line)
        const key = { seed: 'levels', replication: 3 }
        const rows = rowsOf(plan, runToEnd(new Run(plan, TICKS, key, 'eager')))
        // Samples at the edges of the fine blocks, of which the books keep the level of each place.
        const fine = rows.blocks.fine / 1e6
        const stretch = { startHours: fine / 3600, everySeconds: fine, samples: FINE_BLOCKS - 1 }
        const recording = record(plan, new Run(plan, TICKS, key, 'eager'), stretch)
        plan.places.forEach((place, p) => {
          if (!['buffer', 'conveyor', 'carriers'].includes(place.kind)) return
          const levels = levelsAt(recording, place.name)
          if (levels) expect(levels).toEqual([...rows.places[p].level.subarray(1, FINE_BLOCKS)])
        })
        const good = recording.good.reduce((sum, n) => sum + n, 0)
        expect(good).toBe(rows.line.good[FINE_BLOCKS - 1] - rows.line.good[1])
      }),
      { numRuns: 60, seed: 8 },
    )
  })

  it('names a state for every tool at every sample', () => {
    const [line] = fc.sample(randomLine, { numRuns: 1, seed: 9 })
    const plan = compile(line)
    const run = new Run(plan, TICKS, { seed: 'states', replication: 0 }, 'eager')
    const { stations } = record(plan, run, STRETCH)
    const tooled = run.works.stations.filter(station => station instanceof ToolStation)
    expect(stations.map(({ name, tools }) => [name, tools.length])).toEqual(
      tooled.map(({ name, tools }) => [name, tools]),
    )
    for (const { tools } of stations) for (const states of tools) expect(states).toMatch(/^[0-7]{90}$/)
  })
})

/** Wafers in all stores of a name per sample; undefined when there is none. */
function levelsAt(recording: Recording, name: string): number[] | undefined {
  const stores = recording.stores.filter(store => store.name === name)
  if (stores.length === 0) return undefined
  return recording.good.map((_, sample) =>
    stores.reduce((sum, { changes }) => sum + changes.slice(0, sample + 1).reduce((a, b) => a + b, 0), 0),
  )
}
