import { partsOf } from '../../line/cell-money.ts'
import type { Line } from '../../line/types.ts'
import { compile } from '../../plan/compile.ts'
import { bonferroniLevel } from '../../stats/bonferroni.ts'
import type { Estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import { estimateWithin } from '../../stats/resolution.ts'
import { replicationsNeeded } from '../../stats/sample-size.ts'
import { scaled } from '../../stats/scale.ts'
import { mean, standardDeviation } from '../../stats/summary.ts'
import { type Course, courseOf, type Output, outputOf } from '../designs/course.ts'
import {
  commonCut,
  type DesignOptions,
  headOf,
  type Means,
  runAll,
  type StudyHead,
  simulate,
} from '../designs/designs.ts'
import { cellPrice, marginKnownTo, marginPerYear } from '../designs/pricing.ts'
import { type StepStand, standOf } from '../designs/stand.ts'
import { type Shown, shown } from '../designs/verdict.ts'
import { resolutionOf, type WindowHours, windowOf } from '../designs/window.ts'
import { type SeenStop, stopsOf, worstStops } from '../designs/worst-stops.ts'
import { jobsOf, whole } from '../jobs.ts'
import type { Cause, CauseKind } from './cause.ts'
import { causesOf, helpsOthers, leftOutOf, stopName } from './causes.ts'
import { type Nameplate, nameplateOf } from './nameplate.ts'

/** What the line would make more with one cause alone taken away. The intervals of all causes hold together. */
export interface Loss {
  readonly name: string
  readonly kind: CauseKind
  readonly goodPerDay: Estimate
  /** Worth of those cells a year, less the wafers for them; when the line knows money. */
  readonly cashPerYear?: Estimate
  readonly verdict: Shown
}

export interface LossesStudy extends StudyHead {
  /** How each step of the line as it is stood, for the picture of it. */
  readonly stand: readonly StepStand[]
  readonly window: WindowHours
  readonly currency?: string
  readonly goodPerDay: Estimate
  readonly nameplate: Nameplate
  /** Nameplate less what is made. */
  readonly wholePerDay: Estimate
  /** The largest first. */
  readonly losses: readonly Loss[]
  /** Causes whose loss these runs do not tell from the largest one, by paired differences that hold together. */
  readonly notToldApart: readonly string[]
  /** Replications that would show a loss as large as the largest seems to be; absent when it is shown, or when nothing tells. */
  readonly replicationsNeeded?: number
  /** Stops that never came in these runs: nothing can be said of them. */
  readonly unseen: readonly string[]
  /** Stops that cost their time here only, since something else rests on them: they are taken away as if done in no time. */
  readonly doneAllTheSame: readonly string[]
  /** What the line would make more, mostly less, if planned work that renews other stops were left out, and those came. These intervals hold together among themselves. */
  readonly leftOut: readonly Loss[]
  /** Sum of the losses, and the whole less the sum: above zero when causes hide each other, below when one loss counts twice. */
  readonly sumPerDay: Estimate
  readonly overlapPerDay: Estimate
  readonly lossLevel: number
}

/** Stops that are tried one by one, unless told otherwise. */
export const STOPS_ONE_BY_ONE = 12

/**
 * What each loss costs: the line with that cause alone taken away, against the line as it
 * is, on common random streams.
 *
 * @param most stops to be tried one by one; the others are taken away together
 */
export async function lossesStudy(
  line: Line,
  options: DesignOptions,
  means: Means,
  most: number = STOPS_ONE_BY_ONE,
): Promise<LossesStudy> {
  const own = jobsOf(line, line.line, options, 0, options.replications)
  // As if each stop were seen: nearly always it is.
  const expected = causesOf(line, stopsOf(line), most).length + leftOutOf(line, stopsOf(line)).length
  const base = await runAll(own, means, whole, expected * options.replications)
  const courses = base.map(courseOf)
  const cut = commonCut([courses])
  const stops = worstStops(line, base, cut)
  const seen = dearestFirst(
    line,
    stops.filter(({ perDay }) => perDay > 0),
    outputOf(courses[0], cut),
  )
  const causes = causesOf(line, seen, most)
  const services = leftOutOf(line, seen)
  const designs = [
    ...causes.map(cause => ({ name: `without ${cause.name}`, line: cause.without(line) })),
    ...services.map(cause => ({ name: `${cause.name} left out`, line: cause.without(line) })),
  ]
  const without = await simulate(designs, options, means)
  const lossLevel = bonferroniLevel(options.level, Math.max(1, causes.length))
  const leftOutLevel = bonferroniLevel(options.level, Math.max(1, services.length))
  const tried = without.map((replications, c) => gainsOf(line, designs[c].line, courses, replications))
  const gains = tried.slice(0, causes.length)
  const good = courses.map(course => outputOf(course, cut).goodPerHour * 24)
  const finest = resolutionOf(cut, [courses]) * 24
  const finestSum = gains.reduce((sum, gain) => sum + gain.finest * 24, 0)
  const nameplate = nameplateOf(line)
  const sums = good.map((_, r) => gains.reduce((sum, { cells }) => sum + cells[r] * 24, 0))
  const losses = causes.map((cause, c) => lossOf(cause, gains[c], lossLevel))
  return {
    ...headOf(line, options),
    window: windowOf(courses, cut),
    stand: standOf(compile(line).steps, courses, cut, options.level),
    ...(line.money && { currency: line.money.currency }),
    goodPerDay: estimateWithin(good, options.level, finest),
    nameplate,
    wholePerDay: estimateWithin(
      good.map(made => nameplate.goodPerDay - made),
      options.level,
      finest,
    ),
    losses: losses.sort((a, b) => b.goodPerDay.mean - a.goodPerDay.mean),
    ...rivalry(causes, gains, options.level),
    unseen: namesOf(stops.filter(({ perDay }) => perDay === 0)),
    doneAllTheSame: namesOf(seen.filter(({ step, stop }) => helpsOthers(line, step, stop.stop))),
    leftOut: services.map((service, s) => lossOf(service, tried[causes.length + s], leftOutLevel)),
    sumPerDay: estimateWithin(sums, options.level, finestSum),
    overlapPerDay: estimateWithin(
      sums.map((sum, r) => nameplate.goodPerDay - good[r] - sum),
      options.level,
      Math.max(finest, finestSum),
    ),
    lossLevel,
  }
}

/** Stops by the time that they take or, where the line knows money, by their parts as a share of what the cells bring: whichever is more. */
function dearestFirst(line: Line, stops: readonly SeenStop[], output: Output): SeenStop[] {
  const { money } = line
  const brought = money === undefined ? 0 : cellPrice(line, money, output) * output.goodPerHour * 24
  const weight = ({ step, stop, share, perDay }: SeenStop) => {
    const parts = partsOf(money, step, stop.stop) * perDay
    return Math.max(share, parts > 0 ? parts / brought : 0)
  }
  return [...stops].sort((a, b) => weight(b) - weight(a))
}

function namesOf(stops: readonly SeenStop[]): string[] {
  return stops.map(({ step, stop }) => stopName(step, stop.stop))
}

interface Gains {
  /** Good cells an hour, per replication. */
  readonly cells: readonly number[]
  readonly cash: readonly number[] | undefined
  /** By how much each of them can be off, since cells are counted. */
  readonly finest: number
  readonly finestCash: number
}

function gainsOf(line: Line, better: Line, base: readonly Course[], without: readonly Course[]): Gains {
  const cut = commonCut([base, without])
  const { money } = line
  const { steps } = compile(line)
  const outputs = base.map(course => outputOf(course, cut))
  const others = without.map(course => outputOf(course, cut))
  const pairs = outputs.map((was, r) => [was, others[r]] as const)
  const margin = (of: Line, output: Output) => (money ? marginPerYear(of, money, steps, output) : 0)
  const finest = resolutionOf(cut, [without], [base])
  return {
    finest,
    finestCash: money
      ? marginKnownTo(
          money,
          [
            { line, steps, outputs },
            { line: better, steps, outputs: others },
          ],
          finest,
        )
      : 0,
    cells: pairs.map(([was, is]) => is.goodPerHour - was.goodPerHour),
    cash: money && pairs.map(([was, is]) => margin(better, is) - margin(line, was)),
  }
}

function lossOf({ name, kind }: Cause, { cells, cash, finest, finestCash }: Gains, level: number): Loss {
  const goodPerHour = estimateWithin(cells, level, finest)
  return {
    ...{ name, kind, goodPerDay: scaled(goodPerHour, 24) },
    ...(cash && { cashPerYear: estimateWithin(cash, level, finestCash) }),
    verdict: shown(goodPerHour),
  }
}

/** What stands beside the largest loss, and what it would take to show that there is one. */
function rivalry(
  causes: readonly Cause[],
  gains: readonly Gains[],
  level: number,
): Pick<LossesStudy, 'notToldApart' | 'replicationsNeeded'> {
  const ranked = causes
    .map(({ name }, c) => ({ name, ...gains[c] }))
    .sort((a, b) => mean(b.cells) - mean(a.cells))
  const [first, ...others] = ranked
  if (first === undefined) return { notToldApart: [] }
  const apart = bonferroniLevel(level, Math.max(1, others.length))
  const alike = others.filter(
    ({ cells, finest }) =>
      shown(pairedDifference(first.cells, cells, apart, Math.max(first.finest, finest))) ===
      'no difference shown',
  )
  const needed = neededFor(first, bonferroniLevel(level, causes.length))
  return {
    notToldApart: alike.map(({ name }) => name),
    ...(needed !== undefined && { replicationsNeeded: needed }),
  }
}

/** So many that the half-width is half of a loss of this size at most. */
function neededFor({ cells, finest }: Gains, level: number): number | undefined {
  if (cells.length < 2 || shown(estimateWithin(cells, level, finest)) !== 'no difference shown')
    return undefined
  const pilot = { mean: mean(cells), sd: standardDeviation(cells), n: cells.length }
  const needed = replicationsNeeded(pilot, 1, level)
  return Number.isFinite(needed) && needed > cells.length && mean(cells) > 0 ? needed : undefined
}
