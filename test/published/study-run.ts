import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'
import type { Estimate } from '../../sim/stats/estimate.ts'
import type { DesignOptions, Means } from '../../sim/study/designs/designs.ts'
import { inProcessRunner } from '../../sim/study/in-process.ts'
import type { StudyFigure, StudyRun } from './check.ts'
import { LEVEL } from './verdict.ts'

/** What checks of studies have in common. */

/** The line of a scenario, by way of its check. */
export function lineOf(scenario: Line): Line {
  const { line, problems } = checkLine(scenario)
  if (!line) throw new Error(JSON.stringify(problems))
  return line
}

export function optionsOf(run: StudyRun, level: number = LEVEL): DesignOptions {
  const { days, replications, seed } = run
  return { days, replications, seed, drive: 'eager', level, version: 'verify' }
}

export function meansOf({ hooks }: StudyRun): Means {
  return { runner: inProcessRunner(hooks), hooks }
}

/** Something that is counted or named by its number, and must agree. */
export function exactly(name: string, expected: number, found: number): StudyFigure {
  return { name, expected, within: 0, estimate: { mean: found, low: found, high: found, n: Infinity } }
}

/** Half-width of a share of repeats: what some hundred of them can tell. */
const SHARE_WITHIN = 0.04

/**
 * A probability, from how often something came true in independent repeats, with its
 * score interval (Wilson 1927, Journal of the American Statistical Association 22,
 * 209-212), which covers a value just when the share lies in the binomial band about it.
 */
export function share(name: string, expected: number, came: readonly boolean[]): StudyFigure {
  return { name, expected, within: SHARE_WITHIN, estimate: scoreInterval(came) }
}

function scoreInterval(came: readonly boolean[]): Estimate {
  const n = came.length
  const mean = came.filter(Boolean).length / n
  const z = normalQuantile((1 + LEVEL) / 2, 0, 1)
  const middle = (mean + (z * z) / (2 * n)) / (1 + (z * z) / n)
  const half = (z / (1 + (z * z) / n)) * Math.sqrt((mean * (1 - mean)) / n + ((z / n) * z) / (4 * n))
  return { mean, low: middle - half, high: middle + half, n }
}

/** Whether an interval holds a value. */
export function holds({ low, high }: Estimate, value: number): boolean {
  return low !== undefined && high !== undefined && low <= value && value <= high
}

/** `count` repeats, each with chance of its own, in order. */
export async function repeated<T>(run: StudyRun, repeat: (run: StudyRun) => Promise<T> | T): Promise<T[]> {
  const { seed, repeats, hooks } = run
  const found: T[] = []
  for (let index = 0; index < repeats; index++) {
    found.push(await repeat({ ...run, repeats: 1, seed: `${seed}, repeat ${index + 1}`, hooks: {} }))
    hooks.progress?.((index + 1) / repeats, `repeat ${index + 1} of ${repeats}`)
    await hooks.pause?.()
  }
  return found
}
