import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ActivePeriods } from '../../sim/engine/active.ts'
import { FINE_BLOCKS } from '../../sim/engine/blocks.ts'
import { BLOCKED, STARVED } from '../../sim/engine/meter.ts'
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
/** No sample at the end of a block, where people who come at that very tick are written down at once. */
const BETWEEN = { ...STRETCH, startHours: 61 / 3600, samples: 89 }

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

  it('has the states that the books of the run have at the same ticks', () => {
    fc.assert(
      fc.property(anyLine, fc.integer({ min: 0, max: 1000 }), (line, replication) => {
        const plan = compile(line)
        const key = { seed: 'states', replication }
        const recording = record(plan, new Run(plan, TICKS, key, 'eager'), BETWEEN)
        const run = new Run(plan, TICKS, key, 'eager')
        const history = new History()
        for (const station of run.works.stations)
          if (station instanceof ToolStation) station.recordActive(history)
        runToEnd(run)
        // Which of several open infeeds holds back the one wafer before them shows only when it is taken: a sample before says so of all.
        const asKnown = recording.stations.flatMap(({ tools }, s) => {
          const { kind } = plan.stations.filter(station => 'tools' in station)[s]
          return tools.map(() =>
            kind === 'belt' && tools.length > 1 ? waitingAlike : (text: string) => text,
          )
        })
        const states = recording.stations.flatMap(({ tools }) => tools)
        expect(states.map((text, tool) => asKnown[tool](text))).toEqual(
          states.map((_, tool) => asKnown[tool](history.statesAt(tool))),
        )
      }),
      { numRuns: 100, seed: 10 },
    )
  })

  it('of a belt without wafers says at once that it is starved, and that it works during its slots only', () => {
    const plan = compile({
      line: 'idle belt',
      feed: { rate: '100 wafers/h' },
      route: [{ step: 'furnace', belt: { spacing: '2 s', transit: '10 s' } }],
    })
    const run = new Run(plan, TICKS, { seed: '1', replication: 0 }, 'eager')
    const [{ tools }] = record(plan, run, { startHours: 0, everySeconds: 1, samples: 80 }).stations
    // A wafer each 36 s (SI: 3600 s / 100), and the state is that up to the sample: a slot of 2 s ends with its second sample.
    expect(tools).toEqual([`${'1'.repeat(37)}00${'1'.repeat(34)}00${'1'.repeat(5)}`])
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

/** Every stretch of time that enters the books of a tool, as it is told to who records active periods. */
class History extends ActivePeriods {
  private readonly stretches: { tool: number; state: number; from: number; to: number }[] = []

  override held(tool: number, state: number, from: number, to: number): void {
    if (to > from) this.stretches.push({ tool, state, from, to })
  }

  /** The state in which the tool has been just before each sample of the stretch, as the acts of that tick are still to come. */
  statesAt(tool: number): string {
    const own = this.stretches.filter(stretch => stretch.tool === tool)
    return Array.from({ length: BETWEEN.samples }, (_, sample) => {
      const tick = Math.round(BETWEEN.startHours * 3600e6) + sample * EVERY * 1e6
      return own.find(({ from, to }) => from < tick && tick <= to)?.state ?? '-'
    }).join('')
  }
}

/** States in which a blocked infeed is not told from a starved one. */
const waitingAlike = (states: string) => states.replaceAll(String(BLOCKED), String(STARVED))

/** Wafers in all stores of a name per sample; undefined when there is none. */
function levelsAt(recording: Recording, name: string): number[] | undefined {
  const stores = recording.stores.filter(store => store.name === name)
  if (stores.length === 0) return undefined
  return recording.good.map((_, sample) =>
    stores.reduce((sum, { changes }) => sum + changes.slice(0, sample + 1).reduce((a, b) => a + b, 0), 0),
  )
}
