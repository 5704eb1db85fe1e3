import { quantity } from '../base/quantity.ts'
import { capacityTable, feedRate } from '../line/capacity.ts'
import type { Line } from '../line/types.ts'
import { hoursPerYear } from '../line/year.ts'
import type { Rows } from '../measure/rows.ts'
import { type WindowFigures, windowFigures } from '../measure/window.ts'
import { compile } from '../plan/compile.ts'
import { type Plan, TICKS_PER_HOUR } from '../plan/plan.ts'
import { type Estimate, relativeHalfWidth } from '../stats/estimate.ts'
import { auditFigures, estimateOf, placeFigures, series, stepFigures } from './assemble.ts'
import { binFigures, boxFigures } from './assemble-bins.ts'
import { crewFigures, hiddenDefectFigures, timeLimitFigures } from './assemble-losses.ts'
import { megawattPerYear } from './designs/pricing.ts'
import { resolutionOf } from './designs/window.ts'
import { edgesOfGood, goodOutput, scatterOfGood } from './good-output.ts'
import { inProcessRunner } from './in-process.ts'
import { jobsOf, type Runner, whole } from './jobs.ts'
import type { RunOptions, StudyHooks } from './options.ts'
import type { RunStudy } from './run-study.ts'
import { stayClasses } from './stay-classes.ts'
import { type Cut, cutWarmUp } from './warm-up.ts'
import { warningsOf } from './warnings.ts'

/**
 * Runs a line in independent replications and estimates every figure of `run`. The first
 * replications are asked of the runner at once, and so is every round that a precision adds.
 *
 * @param line a line that `checkLine` has passed
 * @param runner carries out the replications; by default here, one after the other
 * @throws what a hook or the runner throws, to end the study
 */
export async function runStudy(
  line: Line,
  options: RunOptions,
  hooks: StudyHooks = {},
  runner: Runner = inProcessRunner(hooks),
): Promise<RunStudy> {
  const plan = compile(line)
  const rows: Rows[] = []
  for (let wanted = options.replications; rows.length < wanted; ) {
    const jobs = jobsOf(line, line.line, options, rows.length, wanted)
    rows.push(...(await runner.run(jobs, whole, options.precision === undefined ? 0 : 'unknown')))
    if (wantsMore(rows, options)) wanted = Math.min(options.cap, nextCount(rows, options))
  }
  return studyOf(line, plan, rows, options)
}

// ---- precision -----------------------------------------------------------------

function wantsMore(rows: readonly Rows[], options: RunOptions): boolean {
  if (options.precision === undefined || rows.length >= options.cap) return false
  if (edgesDecide(rows, options.level, options.precision)) return false
  return !((relativeHalfWidth(goodOutput(rows, options.level)) ?? Infinity) <= options.precision)
}

/** Scatter alone would do, and what the edges of the window let in or not is the same however many replications there are. */
function edgesDecide(rows: readonly Rows[], level: number, precision: number): boolean {
  const scatter = scatterOfGood(rows, level)
  const enough = (relativeHalfWidth(scatter) ?? Infinity) <= precision / 2
  return enough && edgesOfGood(rows) > precision * scatter.mean
}

/** The half-width falls with the root of n: goes at most to twice the number at once, at least one further. */
function nextCount(rows: readonly Rows[], options: RunOptions): number {
  const n = rows.length
  const half = relativeHalfWidth(goodOutput(rows, options.level)) ?? Infinity
  const needed = Math.ceil(n * (half / (options.precision as number)) ** 2)
  return Math.max(n + 1, Math.min(needed, 2 * n))
}

// ---- the study -----------------------------------------------------------------

function studyOf(line: Line, plan: Plan, rows: readonly Rows[], options: RunOptions): RunStudy {
  const { level } = options
  const cut = cutWarmUp(rows)
  const windows = rows.map(r => windowFigures(r, cut.blocks))
  const of: Of = (figure, finest) => estimateOf(windows.map(figure), level, finest)
  const good = goodFigures(line, plan, of, windows, resolutionOf(cut.blocks, [rows]))
  const boxes = boxFigures(plan, windows, level)
  const started = of(w => w.startedPerHour, resolutionOf(cut.blocks, [rows], [], 'started'))
  const steps = stepFigures(plan, windows, rows, capacityTable(line), cut.blocks, level)
  const study = {
    line: line.line,
    notes: line.notes ?? [],
    seed: options.seed,
    version: options.version,
    drive: options.drive,
    days: options.days,
    replications: rows.length,
    level,
    warmUp: warmUpFigures(rows[0], cut),
    ...precisionFigures(good.perHour, options),
    goodOutput: good,
    startedPerHour: started,
    ...allOfFeed(line, started, steps),
    yield: of(w => w.yield),
    turnedAwayPerHour: of(w => w.turnedAwayPerHour),
    wip: of(w => w.wip),
    throughputHours: { mean: of(w => w.stay.mean), median: of(w => w.stay.median), p95: of(w => w.stay.p95) },
    throughputClasses: stayClasses(rows, cut.blocks, level),
    steps,
    places: placeFigures(plan, windows, level),
    crews: crewFigures(plan, rows, cut.blocks, level),
    losses: {
      timeLimits: timeLimitFigures(plan, windows, level),
      hiddenDefects: hiddenDefectFigures(plan, windows, level),
    },
    bins: binFigures(plan, windows, level),
    ...(boxes && { boxes }),
    series: series(plan, rows),
    audit: auditFigures(rows),
    waferSteps: rows.reduce((sum, r) => sum + r.waferSteps, 0),
  }
  return { ...study, warnings: warningsOf(study, rows, line) }
}

/** What misses of the feed is less than this where all of it is taken. */
const MISSED = 0.01

function allOfFeed(
  line: Line,
  started: Estimate,
  steps: RunStudy['steps'],
): Pick<RunStudy, 'allOfFeedPerHour'> {
  const perHour = 3600 * feedRate(line)
  const piles = steps.some(({ pilesUpPerHour }) => pilesUpPerHour !== undefined)
  if (piles || perHour === Infinity || started.mean < (1 - MISSED) * perHour) return {}
  return { allOfFeedPerHour: perHour }
}

function warmUpFigures({ blocks }: Rows, cut: Cut): RunStudy['warmUp'] {
  const blockHours = blocks.coarse / TICKS_PER_HOUR
  return {
    cutHours: cut.blocks * blockHours,
    foundHours: cut.found * blockHours,
    windowHours: (blocks.coarseCount - cut.blocks) * blockHours,
    settled: cut.settled,
  }
}

function precisionFigures(good: Estimate, options: RunOptions): Pick<RunStudy, 'precision'> {
  if (options.precision === undefined) return {}
  const reached = relativeHalfWidth(good) ?? Infinity
  return {
    precision: { wanted: options.precision, reached, met: reached <= options.precision, cap: options.cap },
  }
}

/** A figure over all replications, whose interval is no narrower than `finest`. */
type Of = (figure: (window: WindowFigures) => number | undefined, finest?: number) => Estimate

function goodFigures(
  line: Line,
  plan: Plan,
  of: Of,
  windows: readonly WindowFigures[],
  finest: number,
): RunStudy['goodOutput'] {
  const target = line.target === undefined ? undefined : quantity('rate', line.target) * 3600
  const { area } = plan
  return {
    perHour: of(w => w.goodPerHour, finest),
    ...(area !== undefined && {
      megawattPerYear: of(
        w => megawattPerYear(line, w),
        megawattPerYear(line, { ...windows[0], goodPerHour: finest }),
      ),
      hoursPerYear: hoursPerYear(line),
      efficiency: of(w => w.efficiency),
    }),
    ...(target !== undefined && {
      targetPerHour: target,
      shareOfTarget: of(w => w.goodPerHour / target, finest / target),
    }),
  }
}
