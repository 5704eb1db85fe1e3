import type { Line } from '../../line/types.ts'
import type { Rows } from '../../measure/rows.ts'
import { type Ahead, type Job, jobsOf, type Runner } from '../jobs.ts'
import type { RunOptions, StudyHooks } from '../options.ts'
import { cutWarmUp, wholeCut } from '../warm-up.ts'
import { type Course, courseOf } from './course.ts'

/** A line under a name: the scenario's own, or one that differs from it. */
export interface Design {
  readonly name: string
  /** A line that `checkLine` has passed, its variant applied. */
  readonly line: Line
}

/** How a study of designs runs each of them. */
export type DesignOptions = Pick<RunOptions, 'days' | 'replications' | 'seed' | 'drive' | 'level' | 'version'>

/** What every study of designs says of itself. */
export interface StudyHead {
  readonly line: string
  readonly seed: string
  readonly version: string
  readonly drive: 'strict' | 'eager'
  readonly days: number
  readonly replications: number
  /** Of the intervals, each or together as the study says. */
  readonly level: number
}

export function headOf(line: Line, options: DesignOptions): StudyHead {
  const { seed, version, drive, days, replications, level } = options
  return { line: line.line, seed, version, drive, days, replications, level }
}

/** What a study needs of the world: who carries out its jobs, and whom it tells. */
export interface Means {
  readonly runner: Runner
  readonly hooks?: StudyHooks
}

/** The books of a replication do not close: the figures must not be used. */
export class AuditFailed extends Error {
  override readonly name = 'AuditFailed'
}

/**
 * Simulates designs on common random streams: replication i of every design has the same
 * seed, so what chance does to all alike drops out of their differences.
 *
 * @returns the course of each replication of each design
 * @throws AuditFailed when the books of a replication do not close
 */
export async function simulate(
  designs: readonly Design[],
  options: DesignOptions,
  means: Means,
  ahead: Ahead = 0,
): Promise<Course[][]> {
  const { replications } = options
  const jobs = designs.flatMap(({ name, line }) => jobsOf(line, name, options, 0, replications))
  const courses = await runAll(jobs, means, courseOf, ahead)
  return designs.map((_, d) => courses.slice(d * replications, (d + 1) * replications))
}

/** Runs jobs and keeps of each what `keep` takes out of its rows. */
export async function runAll<Kept>(
  jobs: readonly Job[],
  { runner, hooks }: Means,
  keep: (rows: Rows) => Kept,
  ahead: Ahead = 0,
): Promise<Kept[]> {
  const all = await runner.run(
    jobs,
    rows => ({ kept: keep(rows), fault: rows.audit.faults[0] as string | undefined }),
    ahead,
  )
  const wrong = all.findIndex(({ fault }) => fault !== undefined)
  if (wrong >= 0) {
    const { label, replication } = jobs[wrong]
    throw new AuditFailed(`${label}, replication ${replication + 1}: ${all[wrong].fault}`)
  }
  await hooks?.pause?.()
  return all.map(({ kept }) => kept)
}

/** The cut that all these designs need: the latest of their own, so that all are measured over the same window. */
export function commonCut(courses: readonly (readonly Course[])[]): number {
  const cuts = courses.map(replications => cutWarmUp(replications).blocks)
  // Where days (hours) differ in one design, all are measured over whole weeks (days).
  const cutBy = courses.map(([course]) => course.cutBy)
  const { coarseCount } = courses[0][0].blocks
  return wholeCut(Math.max(0, ...cuts), coarseCount, cutBy.includes(0) ? 0 : Math.max(1, ...cutBy))
}
