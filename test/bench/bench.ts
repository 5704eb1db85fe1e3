import { execFileSync } from 'node:child_process'
import { cpus } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { loaderOfSources } from '../../reports/jobs/workers.ts'
import perc from '../../scenarios/perc-line.ts'
import { Run } from '../../sim/engine/run.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import { rowsOf } from '../../sim/measure/rows.ts'
import { windowFigures } from '../../sim/measure/window.ts'
import { compile } from '../../sim/plan/compile.ts'
import { TICKS_PER_HOUR } from '../../sim/plan/plan.ts'
import { ratios, ratiosText, storedBench } from './against.ts'
import { growthRows, growthText, MOST_MEMORY, memoryOf, memoryRows } from './growth.ts'
import { bench14 } from './lines.ts'
import { machinesOnly } from './machines.ts'

/**
 * Speed of the engine on one core, all meters on: one run to warm up, then `RUNS` timed
 * ones of the same work, of which the median counts. The number of wafer-steps is
 * asserted: a change that makes the engine faster by doing other work is no speed-up.
 */
const RUNS = 5

interface Bench {
  readonly name: string
  readonly line: Line
  readonly drive: 'strict' | 'eager'
  readonly hours: number
  /** Regression only: wafer-steps of this line, seed and length. */
  readonly waferSteps: number
}

const BENCHES: readonly Bench[] = [
  { name: 'bench-14', line: bench14(), drive: 'eager', hours: 192, waferSteps: 16_889_678 },
  { name: 'bench-14', line: bench14(), drive: 'strict', hours: 24, waferSteps: 2102409 },
  {
    name: 'perc-line, machines',
    line: machinesOnly(perc),
    drive: 'eager',
    hours: 96,
    waferSteps: 11_015_654,
  },
  { name: 'perc-line', line: perc, drive: 'eager', hours: 96, waferSteps: 11_995_488 },
]

interface BenchResult {
  readonly name: string
  readonly drive: string
  readonly waferSteps: number
  /** Median of the timed runs, with the fastest and the slowest [s]. */
  readonly seconds: number
  readonly fastest: number
  readonly slowest: number
  readonly waferStepsPerSecond: number
  readonly goodPerHour: number
}

function measure(bench: Bench): BenchResult {
  const { line, problems } = checkLine(bench.line)
  if (!line) throw new Error(`${bench.name}: ${JSON.stringify(problems)}`)
  const plan = compile(line)
  const once = () => {
    const begin = performance.now()
    const run = new Run(plan, bench.hours * TICKS_PER_HOUR, { seed: 'bench', replication: 0 }, bench.drive)
    while (run.step() < 1) {}
    const rows = rowsOf(plan, run)
    return { seconds: (performance.now() - begin) / 1000, rows }
  }
  const warm = once()
  const timed = Array.from({ length: RUNS }, () => once().seconds).sort((a, b) => a - b)
  const { waferSteps, audit } = warm.rows
  if (audit.faults.length > 0) throw new Error(`${bench.name}: ${audit.faults.join('; ')}`)
  if (waferSteps !== bench.waferSteps)
    throw new Error(`${bench.name}, ${bench.drive}: ${waferSteps} wafer-steps, ${bench.waferSteps} expected`)
  const seconds = timed[Math.floor(RUNS / 2)]
  return {
    name: bench.name,
    drive: bench.drive,
    waferSteps,
    seconds,
    fastest: timed[0],
    slowest: timed[RUNS - 1],
    waferStepsPerSecond: waferSteps / seconds,
    goodPerHour: windowFigures(warm.rows, 0).goodPerHour,
  }
}

function commit(): string {
  try {
    return execFileSync('git', ['rev-parse', '--short', 'HEAD'], { encoding: 'utf8' }).trim()
  } catch {
    return 'unknown'
  }
}

function text(results: readonly BenchResult[]): string {
  const rows = results.map(
    r =>
      `${r.name.padEnd(19)} ${r.drive.padEnd(7)} ${(r.waferSteps / 1e6).toFixed(2).padStart(7)} M  ` +
      `${r.seconds.toFixed(3).padStart(7)} s (${r.fastest.toFixed(3)} to ${r.slowest.toFixed(3)})  ` +
      `${(r.waferStepsPerSecond / 1e6).toFixed(2).padStart(6)} M/s`,
  )
  return [`line                drive   wafer-steps   median of ${RUNS}`, ...rows].join('\n')
}

const USAGE = `npm run bench -- [--json] [--against FILE] [--growth]
  --json          one JSON document
  --against FILE  ratios of speed to a bench that was stored with --json
  --growth        instead of the lines: cost by steps, buffers, calls for people and replications; peak memory of ten years`

function options() {
  try {
    return parseArgs({
      options: {
        json: { type: 'boolean', default: false },
        against: { type: 'string' },
        growth: { type: 'boolean', default: false },
        'memory-of': { type: 'string' },
        'line-of': { type: 'string' },
      },
    }).values
  } catch (error) {
    process.stderr.write(`${(error as Error).message}\n${USAGE}\n`)
    process.exit(2)
  }
}

async function bench(values: ReturnType<typeof options>): Promise<void> {
  const then = values.against === undefined ? undefined : storedBench(values.against)
  const machine = {
    ...{ machine: cpus()[0]?.model ?? 'unknown', cores: cpus().length, node: process.version },
    commit: commit(),
  }
  const lines = values.growth ? [] : BENCHES.map((_, index) => inOwnProcess(index))
  const growth = values.growth ? await growthRows() : undefined
  const memory = values.growth ? memoryRows() : undefined
  const now = { ...machine, lines, ...(growth && { growth, memory }) }
  const compared = then && ratios(now, then)
  const words = [
    `${machine.machine}, ${machine.cores} cores, Node ${machine.node}, commit ${machine.commit}`,
    growth && memory ? growthText(growth, memory) : text(lines),
    ...(then && compared ? [ratiosText(compared, then)] : []),
  ]
  const document = JSON.stringify({ ...now, ...(compared && { against: compared }) }, null, 2)
  process.stdout.write(`${values.json ? document : words.join('\n')}\n`)
  if (memory && memory[1].megabytes > MOST_MEMORY * memory[0].megabytes) {
    process.stderr.write('the peak memory grows with the length of a run\n')
    process.exitCode = 1
  }
}

/** Each line has a process of its own, as each has for a user: what the compiler has learnt from one slows the next. It reads sources as worker threads do. */
function inOwnProcess(index: number): BenchResult {
  const self = ['--import', loaderOfSources(), fileURLToPath(import.meta.url), '--line-of', String(index)]
  return JSON.parse(execFileSync(process.execPath, self, { encoding: 'utf8' }))
}

const given = options()
if (given['line-of'] !== undefined)
  process.stdout.write(JSON.stringify(measure(BENCHES[Number(given['line-of'])])))
else if (given['memory-of'] !== undefined)
  process.stdout.write(JSON.stringify(memoryOf(Number(given['memory-of']))))
else
  await bench(given).catch(error => {
    process.stderr.write(`${error.message}\n`)
    process.exitCode = 1
  })
