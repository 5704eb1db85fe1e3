import { execFileSync } from 'node:child_process'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import { rowsOf } from '../../sim/measure/rows.ts'
import { compile } from '../../sim/plan/compile.ts'
import { TICKS_PER_HOUR } from '../../sim/plan/plan.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { benchLine, slowLine, stoppedLine } from './lines.ts'

/** How cost grows as work grows: time per wafer-step should stay where it is. */
export interface GrowthRow {
  /** What grows: steps, places of each buffer, replications. */
  readonly grows: string
  readonly size: number
  readonly waferSteps: number
  /** Calls for people that were granted. */
  readonly calls: number
  /** Best of the timed turns [s]. */
  readonly seconds: number
  readonly nanosecondsPerWaferStep: number
}

/** What a turn did. */
type Done = Pick<GrowthRow, 'waferSteps' | 'calls'>

/** Work that can be timed: does it once and tells what it did. A new kind of growth is one more list of these. */
interface Work {
  readonly grows: string
  readonly size: number
  once(): Promise<Done>
}

/** Turns of each work: one to warm up, then these, of which the best counts. */
const TURNS = 3
/** Length of a turn: long enough that setting up a line and folding its books cost little beside it [h]. */
const HOURS = 12

/**
 * A stop every 2 min somewhere in the line, without and with a person who is called. A call holds every
 * station up once, at the bound that its clocks give, so what calls cost grows as the line does and the
 * time per wafer-step stays where it is.
 */
const STOPS = 'stops'
const CALLS = 'stops, crew'

/**
 * The same steps as lines of 30 that stand side by side, each run on by as much as a sweep of visits
 * takes a line. What a wafer-step costs more here is not the length of a line, but that so many
 * stations no longer lie in the fast part of the memory until they are visited again.
 */
const SIDE_BY_SIDE = 'steps, lines of 30'
const SWEEPS = 500

/** Works of one kind, which are timed in turns. */
const KINDS: readonly (readonly Work[])[] = [
  [
    ...[10, 30, 100, 300].map(size => oneRun('steps', size, benchLine('steps', size, 200))),
    ...[30, 300].map(sideBySide),
  ],
  [1, 20, 200, 2000].map(size => oneRun('buffers', size, benchLine('buffers', 14, size))),
  [10, 30, 100].flatMap(size => [
    oneRun(STOPS, size, stoppedLine(size, 'by nobody')),
    oneRun(CALLS, size, stoppedLine(size, 'by a crew')),
  ]),
  [1, 2, 4, 8, 16, 32, 64].map(replications),
]

function oneRun(grows: string, size: number, line: Line): Work {
  const plan = compile(sound(line))
  const ticks = HOURS * TICKS_PER_HOUR
  return {
    grows,
    size,
    async once() {
      const run = new Run(plan, ticks, { seed: 'bench', replication: 0 }, 'eager')
      const { waferSteps, people } = rowsOf(plan, runToEnd(run))
      return { waferSteps, calls: people?.calls.reduce((sum, count) => sum + count, 0) ?? 0 }
    },
  }
}

function sideBySide(size: number): Work {
  const plan = compile(sound(benchLine('steps', 30, 200)))
  const ticks = HOURS * TICKS_PER_HOUR
  return {
    grows: SIDE_BY_SIDE,
    size,
    async once() {
      const key = (replication: number) => ({ seed: 'bench', replication })
      const runs = Array.from({ length: size / 30 }, (_, line) => new Run(plan, ticks, key(line), 'eager'))
      for (let sweep = 1; sweep <= SWEEPS; sweep++)
        for (const run of runs) run.runTo((ticks * sweep) / SWEEPS)
      return { waferSteps: runs.reduce((sum, run) => sum + run.waferSteps(), 0), calls: 0 }
    },
  }
}

/** A whole study, its statistics included, on one core. */
function replications(size: number): Work {
  const line = sound(benchLine('replications', 14, 200))
  const options = { seed: 'bench', drive: 'eager', cap: 200, level: 0.95, version: '' } as const
  return {
    grows: 'replications',
    size,
    async once() {
      const { waferSteps } = await runStudy(line, { ...options, days: 0.25, replications: size })
      return { waferSteps, calls: 0 }
    },
  }
}

function sound(given: Line): Line {
  const { line, problems } = checkLine(given)
  if (!line) throw new Error(JSON.stringify(problems))
  return line
}

/** Times all sizes, the sizes of one kind in turns, so that a change of the machine's pace hits them alike. */
export async function growthRows(): Promise<GrowthRow[]> {
  const rows: GrowthRow[] = []
  for (const works of KINDS) rows.push(...(await timed(works)))
  return rows
}

async function timed(works: readonly Work[]): Promise<GrowthRow[]> {
  const best = works.map(() => Infinity)
  const done: Done[] = []
  for (let turn = 0; turn <= TURNS; turn++)
    for (const [index, work] of works.entries()) {
      const begin = performance.now()
      done[index] = await work.once()
      if (turn > 0) best[index] = Math.min(best[index], (performance.now() - begin) / 1000)
    }
  return works.map(({ grows, size }, index) => ({
    ...{ grows, size, ...done[index], seconds: best[index] },
    nanosecondsPerWaferStep: (best[index] / done[index].waferSteps) * 1e9,
  }))
}

export interface MemoryRow {
  readonly days: number
  /** Peak of a process that simulates this, all of Node included [MB]. */
  readonly megabytes: number
  readonly waferSteps: number
}

/** Ten days and ten years. */
const SPANS = [10, 3650]
/** The peak of the longer span may be so much of that of the shorter one. */
export const MOST_MEMORY = 1.2

/** Peak memory by length of the run, each in a process of its own. */
export function memoryRows(): MemoryRow[] {
  const { execPath, execArgv, argv } = process
  return SPANS.map(days => {
    const words = [...execArgv, argv[1], '--memory-of', String(days)]
    return JSON.parse(execFileSync(execPath, words, { encoding: 'utf8' }))
  })
}

/** Simulates the slow line in this process and tells its peak. */
export function memoryOf(days: number): MemoryRow {
  const plan = compile(sound(slowLine()))
  const run = runToEnd(new Run(plan, days * 24 * TICKS_PER_HOUR, { seed: 'bench', replication: 0 }, 'eager'))
  const { waferSteps, audit } = rowsOf(plan, run)
  if (audit.faults.length > 0) throw new Error(audit.faults.join('; '))
  return { days, megabytes: process.resourceUsage().maxRSS / 1024, waferSteps }
}

export function growthText(rows: readonly GrowthRow[], memory: readonly MemoryRow[]): string {
  const first = (row: GrowthRow) => rows.find(one => one.grows === row.grows) ?? row
  const lines = rows.map(row => {
    const ratio = row.nanosecondsPerWaferStep / first(row).nanosecondsPerWaferStep
    return (
      `${row.grows.padEnd(12)} ${String(row.size).padStart(5)}  ${(row.waferSteps / 1e6).toFixed(2).padStart(6)} M  ` +
      `${row.nanosecondsPerWaferStep.toFixed(1).padStart(7)} ns  x ${ratio.toFixed(2)}`
    )
  })
  const calls = rows.flatMap(row => {
    const alone = rows.find(one => one.grows === STOPS && one.size === row.size)
    return row.grows === CALLS && alone ? [callText(row, alone)] : []
  })
  const peaks = memory.map(({ days, megabytes }) => `${days} days ${megabytes.toFixed(0)} MB`)
  const growth = memory[1].megabytes / memory[0].megabytes
  return [
    'grows         size  wafer-steps  per wafer-step, against the smallest',
    ...lines,
    ...calls,
    `peak memory: ${peaks.join(', ')}: x ${growth.toFixed(2)} (at most ${MOST_MEMORY})`,
  ].join('\n')
}

/** What it costs that people are called, against the same line where stops end by themselves. */
function callText(row: GrowthRow, alone: GrowthRow): string {
  const ratio = row.nanosecondsPerWaferStep / alone.nanosecondsPerWaferStep
  const perCall = ((row.seconds - (alone.seconds * row.waferSteps) / alone.waferSteps) / row.calls) * 1e6
  return (
    `people called at ${row.size} steps: x ${ratio.toFixed(2)} of the time without, ` +
    `${perCall.toFixed(0)} microseconds for each of ${row.calls} calls`
  )
}
