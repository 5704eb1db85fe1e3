import { execFileSync } from 'node:child_process'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import { rowsOf } from '../../sim/measure/rows.ts'
import { compile } from '../../sim/plan/compile.ts'
import { TICKS_PER_HOUR } from '../../sim/plan/plan.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { benchLine, slowLine } from './lines.ts'

/** How cost grows as work grows: time per wafer-step should stay where it is. */
export interface GrowthRow {
  /** What grows: steps, places of each buffer, replications. */
  readonly grows: string
  readonly size: number
  readonly waferSteps: number
  /** Best of the timed turns [s]. */
  readonly seconds: number
  readonly nanosecondsPerWaferStep: number
}

/** Work that can be timed: does it once and tells its wafer-steps. A new kind of growth is one more of these. */
interface Work {
  readonly grows: string
  readonly size: number
  once(): Promise<number>
}

/** Turns of each work: one to warm up, then these, of which the best counts. */
const TURNS = 3
/** Length of a turn: long enough that setting up a line and folding its books cost little beside it [h]. */
const HOURS = 12

const WORKS: readonly Work[] = [
  ...[10, 30, 100, 300].map(size => oneRun('steps', size, benchLine('steps', size, 200))),
  ...[1, 20, 200, 2000].map(size => oneRun('buffers', size, benchLine('buffers', 14, size))),
  ...[1, 2, 4, 8, 16, 32, 64].map(replications),
]

function oneRun(grows: string, size: number, line: Line): Work {
  const plan = compile(sound(line))
  const ticks = HOURS * TICKS_PER_HOUR
  return {
    grows,
    size,
    async once() {
      return rowsOf(plan, runToEnd(new Run(plan, ticks, { seed: 'bench', replication: 0 }, 'eager')))
        .waferSteps
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
    once: async () => (await runStudy(line, { ...options, days: 0.25, replications: size })).waferSteps,
  }
}

function sound(given: Line): Line {
  const { line, problems } = checkLine(given)
  if (!line) throw new Error(JSON.stringify(problems))
  return line
}

/** Times all sizes, the sizes of one kind in turns, so that a change of the machine's pace hits them alike. */
export async function growthRows(): Promise<GrowthRow[]> {
  const best = new Map<Work, { seconds: number; waferSteps: number }>()
  for (const grows of new Set(WORKS.map(work => work.grows))) {
    const works = WORKS.filter(work => work.grows === grows)
    for (let turn = 0; turn <= TURNS; turn++)
      for (const work of works) {
        const begin = performance.now()
        const waferSteps = await work.once()
        const seconds = turn === 0 ? Infinity : (performance.now() - begin) / 1000
        best.set(work, { seconds: Math.min(seconds, best.get(work)?.seconds ?? Infinity), waferSteps })
      }
  }
  return [...best].map(([{ grows, size }, { seconds, waferSteps }]) => ({
    ...{ grows, size, waferSteps, seconds },
    nanosecondsPerWaferStep: (seconds / waferSteps) * 1e9,
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
  const peaks = memory.map(({ days, megabytes }) => `${days} days ${megabytes.toFixed(0)} MB`)
  const growth = memory[1].megabytes / memory[0].megabytes
  return [
    'grows         size  wafer-steps  per wafer-step, against the smallest',
    ...lines,
    `peak memory: ${peaks.join(', ')}: x ${growth.toFixed(2)} (at most ${MOST_MEMORY})`,
  ].join('\n')
}
