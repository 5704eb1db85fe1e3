import { checkLine } from '../../sim/line/check.ts'
import { type Estimate, halfWidth } from '../../sim/stats/estimate.ts'
import { studentFactor } from '../../sim/stats/student.ts'
import type { StudyHooks } from '../../sim/study/options.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { type Check, type Family, type Figure, seedsOf } from './check.ts'

/**
 * Pass rule: the 99.9 % Student interval over independent replications covers the
 * expected value, and the run was long enough: the 95 % interval of the same replications
 * is as narrow as the figure asks. A check that misses is tried once more with its second
 * seed: among some hundred intervals at 99.9 % one may miss by chance, hardly the same
 * one twice.
 */
export const LEVEL = 0.999
const PRECISION_LEVEL = 0.95

/** One figure of one check, judged. */
export interface Verdict {
  readonly id: string
  readonly family: Family
  readonly kind: 'simulated' | 'sample path' | 'number'
  readonly what: string
  readonly source: string
  readonly figure: string
  readonly expected: number
  readonly mean: number
  /** Ends of the 99.9 % interval; both the mean where nothing is left to chance. */
  readonly low: number
  readonly high: number
  /** Half-width of the 95 % interval as a share of the expected value, and what it may be. */
  readonly halfWidth: number
  readonly within: number
  readonly pass: boolean
  /** Why not; empty when it passes. */
  readonly fault: string
  /** How it was run; for what is simulated only. */
  readonly days?: number
  readonly replications?: number
  readonly seed?: string
  /** Tried a second time, with the second seed. */
  readonly secondTry: boolean
  /** Time that the whole check took, the same in all its figures [s]. */
  readonly seconds: number
}

/** Rounding that a sum of some million doubles may leave. */
const ROUNDING = 1e-9

/** Runs a check, a second time with its second seed when it misses. `clock` gives seconds. */
export async function runCheck(
  check: Check,
  clock: () => number,
  hooks: StudyHooks = {},
): Promise<Verdict[]> {
  const started = clock()
  const [seed, secondSeed] = seedsOf(check)
  const first = judge(check, await study(check, seed, hooks), seed)
  if (first.every(({ pass }) => pass)) return timed(first, clock() - started)
  const again = judge(check, await study(check, secondSeed, hooks), secondSeed)
  return timed(
    again.map(verdict => ({ ...verdict, secondTry: true })),
    clock() - started,
  )
}

function timed(verdicts: readonly Verdict[], seconds: number): Verdict[] {
  return verdicts.map(verdict => ({ ...verdict, seconds }))
}

/** The study of a check, by way of the checked scenario. */
export async function study(check: Check, seed: string, hooks: StudyHooks): Promise<RunStudy> {
  const { line, problems } = checkLine(check.line)
  if (!line)
    throw new Error(`${check.id}: ${problems.map(({ path, expected }) => `${path}: ${expected}`).join('; ')}`)
  const { days, replications } = check.run
  const options = {
    days,
    replications,
    seed,
    drive: 'eager',
    cap: replications,
    level: LEVEL,
    version: 'verify',
  } as const
  return runStudy(line, options, hooks)
}

function judge(check: Check, found: RunStudy, seed: string): Verdict[] {
  const { id, family, what, source, run } = check
  return check.figures.map(figure => {
    const estimate = figure.read(found)
    const { mean, low = mean, high = mean } = estimate
    const fault = found.audit.faults[0] ?? faultOf(figure, estimate)
    return {
      ...{ id, family, kind: 'simulated', what, source, figure: figure.name, expected: figure.expected },
      ...{ mean, low, high, halfWidth: relative(estimate, figure.expected), within: figure.within },
      ...{ pass: fault === '', fault, days: run.days, replications: run.replications, seed },
      ...{ secondTry: false, seconds: 0 },
    }
  })
}

function faultOf({ expected, within }: Figure, estimate: Estimate): string {
  const { mean, low = mean, high = mean, n } = estimate
  if (n < 2) return 'no interval'
  const slack = ROUNDING * Math.abs(expected)
  if (low - slack > expected || expected > high + slack) return 'misses'
  const half = relative(estimate, expected)
  return half <= within ? '' : `not sure enough: ${percent(half)} of ${percent(within)}`
}

/** Half-width of the 95 % interval as a share of the expected value; where that is 0, as it is. */
function relative(estimate: Estimate, expected: number): number {
  const half = halfWidth(estimate)
  if (half === undefined) return Infinity
  const degrees = estimate.n - 1
  const narrower = studentFactor(PRECISION_LEVEL, degrees) / studentFactor(LEVEL, degrees)
  return (half * narrower) / (Math.abs(expected) || 1)
}

function percent(fraction: number): string {
  return `${(fraction * 100).toPrecision(2)} %`
}
