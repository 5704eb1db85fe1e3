import { missingMoney } from '../../line/check-money.ts'
import { describeChanges } from '../../line/describe.ts'
import type { Line, Money, Outlay } from '../../line/types.ts'
import { compile } from '../../plan/compile.ts'
import { bonferroniLevel } from '../../stats/bonferroni.ts'
import { type Estimate, estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import { estimateWithin } from '../../stats/resolution.ts'
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
import { marginKnownTo, marginPerYear, megawattPerYear, together } from '../designs/pricing.ts'
import { type StepStand, standOf } from '../designs/stand.ts'
import { type Shown, shown } from '../designs/verdict.ts'
import { resolutionOf, type WindowHours, windowOf } from '../designs/window.ts'
import { stopsOf, worstStops } from '../designs/worst-stops.ts'
import { jobsOf, whole } from '../jobs.ts'
import { type PaybackVerdict, type Return, returnOf, verdictOf } from './cash.ts'
import { type Change, type ChangeKind, changesToTry } from './changes.ts'
import { changesNamed } from './only.ts'

/** A change that was tried. The intervals of all changes hold together. */
export interface TriedChange extends Return {
  readonly name: string
  readonly kind: ChangeKind
  readonly changes: readonly string[]
  readonly gainPerHour: Estimate
  readonly megawattPerYear?: Estimate
  /** Extra cash a year after running costs. */
  readonly cashPerYear: Estimate
  readonly investment?: number
  readonly verdict: PaybackVerdict
}

/** Two changes made together. The intervals of all pairs hold together. */
export interface TriedPair extends Return {
  readonly first: string
  readonly second: string
  readonly gainPerHour: Estimate
  /** Gain of both together less the gains of each alone. */
  readonly overSum: Estimate
  readonly cashPerYear: Estimate
  readonly investment?: number
  readonly verdict: PaybackVerdict
  readonly worthMoreThanSum: Shown
}

export interface PaybackStudy extends StudyHead {
  /** Only changes that these texts name were tried; absent when all were. */
  readonly only?: readonly string[]
  /** How each step of the line as it is stood, for the picture of it. */
  readonly stand: readonly StepStand[]
  readonly window: WindowHours
  readonly currency: string
  /** For so long what is bought is used; absent when the scenario does not say. */
  readonly years?: number
  readonly goodPerHour: Estimate
  readonly marginPerYear: Estimate
  /** The one with the highest net present value first; those without a price by what they are worth. */
  readonly changes: readonly TriedChange[]
  readonly pairs: readonly TriedPair[]
  /** Level of the interval of each change, and of each pair. */
  readonly changeLevel: number
  readonly pairLevel: number
  /** What the scenario does not say of money, one sentence each. */
  readonly missing: readonly string[]
}

/** Stops whose repair is tried, changes from which pairs are made, pairs that are tried. */
const WORST_STOPS = 5
const IN_PAIRS = 5
const MOST_PAIRS = 6

/** A line with money to count. */
export type PricedLine = Line & { readonly money: Money }

/**
 * What each change of a line pays: one more tool at each step, the next size of each
 * buffer, one more head in each crew, shorter repairs of the worst stops, and the
 * variants of the scenario; then the best of them in pairs.
 *
 * @param only texts that name the changes to try, see `changesNamed`; all are tried without
 */
export async function paybackStudy(
  line: PricedLine,
  options: DesignOptions,
  means: Means,
  only: readonly string[] = [],
): Promise<PaybackStudy> {
  const { money } = line
  const own = jobsOf(line, line.line, options, 0, options.replications)
  const named = only.length === 0 ? undefined : changesNamed(line, money, only)
  const toCome = (named ?? changesToTry(line, money, stopsOf(line).slice(0, WORST_STOPS))).length
  const later = toCome + pairsAmong(toCome)
  const base = await runAll(own, means, whole, later * options.replications)
  const courses = base.map(courseOf)
  const cut = commonCut([courses])
  const changes = named ?? changesToTry(line, money, worstStops(line, base, cut).slice(0, WORST_STOPS))
  const tried = await simulate(
    changes.map(({ name, apply }) => ({ name, line: apply(line) })),
    options,
    means,
    pairsAmong(changes.length) * options.replications,
  )
  const changeLevel = bonferroniLevel(options.level, Math.max(1, changes.length))
  const trials = changes.map((change, c) => trialOf(line, courses, tried[c], [change]))
  const singles = changes.map((change, c) => triedChange(change, trials[c], money, changeLevel))
  const { pairs, pairLevel } = await bestPairs(line, changes, courses, tried, options, means)
  const alone = courses.map(course => outputOf(course, cut))
  const steps = compile(line).steps
  const finest = resolutionOf(cut, [courses])
  return {
    ...headOf(line, options),
    ...(only.length > 0 && { only }),
    window: windowOf(courses, cut),
    stand: standOf(steps, courses, cut, options.level),
    currency: money.currency,
    ...(money.years !== undefined && { years: money.years }),
    goodPerHour: estimateWithin(
      alone.map(o => o.goodPerHour),
      options.level,
      finest,
    ),
    marginPerYear: estimateWithin(
      alone.map(o => marginPerYear(line, money, steps, o)),
      options.level,
      marginKnownTo(money, [{ line, steps, outputs: alone }], finest),
    ),
    changes: [...singles].sort((a, b) => rank(b) - rank(a)),
    pairs,
    changeLevel,
    pairLevel,
    missing: missingMoney(line),
  }
}

/** Pairs that so many changes make at most. */
function pairsAmong(changes: number): number {
  return Math.min(MOST_PAIRS, (changes * (changes - 1)) / 2)
}

function rank({ npv, worth, cashPerYear }: TriedChange): number {
  return (npv ?? worth ?? cashPerYear).mean
}

/** What changes made together did in each replication, measured over one window with the base. */
interface Trial {
  readonly gains: readonly number[]
  readonly megawatts: readonly number[] | undefined
  readonly cash: readonly number[]
  readonly outlay: Outlay | undefined
  /** One cell over the window [cells/h]; by how much each of them can be off, since cells are counted. */
  readonly oneCell: number
  readonly finest: { readonly gain: number; readonly megawatt: number; readonly cash: number }
}

function trialOf(
  line: PricedLine,
  base: readonly Course[],
  changed: readonly Course[],
  changes: readonly Change[],
): Trial {
  const cut = commonCut([base, changed])
  const after = changes.reduce<Line>((made, { apply }) => apply(made), line)
  const outlay = changes.map(change => change.outlay).reduce(together)
  const steps = { before: compile(line).steps, after: compile(after).steps }
  const pairs = base.map((course, r) => [outputOf(course, cut), outputOf(changed[r], cut)] as const)
  const differences = (before: (o: Output) => number, now: (o: Output) => number) =>
    pairs.map(([was, is]) => now(is) - before(was))
  const good = (o: Output) => o.goodPerHour
  const finest = resolutionOf(cut, [changed], [base])
  return {
    gains: differences(good, good),
    megawatts:
      line.wafer &&
      differences(
        o => megawattPerYear(line, o) ?? 0,
        o => megawattPerYear(after, o) ?? 0,
      ),
    cash: differences(
      o => marginPerYear(line, line.money, steps.before, o),
      o => marginPerYear(after, line.money, steps.after, o) - (outlay?.perYear ?? 0),
    ),
    outlay,
    oneCell: 1 / windowOf(base, cut).windowHours,
    finest: {
      gain: finest,
      megawatt: megawattPerYear(line, { ...pairs[0][0], goodPerHour: finest }) ?? 0,
      cash: marginKnownTo(
        line.money,
        [
          { line, steps: steps.before, outputs: pairs.map(([was]) => was) },
          { line: after, steps: steps.after, outputs: pairs.map(([, is]) => is) },
        ],
        finest,
      ),
    },
  }
}

/** A margin below this part of what it is known to is rounding. */
const SMALLEST = 1e-6

/** The figures of a trial, and what they say. */
function answerOf(trial: Trial, money: Money, level: number) {
  const { gains, megawatts, cash, outlay, finest } = trial
  const gainPerHour = estimateWithin(gains, level, finest.gain)
  const cashPerYear = estimateWithin(cash, level, finest.cash)
  const back = returnOf(cashPerYear, outlay, money)
  const margins = cash.map(one => one + (outlay?.perYear ?? 0))
  // A gain is a number of cells over the window, and margins go with cells and stops: less than a half of one is rounding.
  const touches =
    gains.some(gain => Math.abs(gain) > trial.oneCell / 2) ||
    margins.some(margin => Math.abs(margin) > SMALLEST * finest.cash)
  return {
    ...{ gainPerHour, cashPerYear, ...back },
    ...(megawatts && { megawattPerYear: estimateWithin(megawatts, level, finest.megawatt) }),
    ...(outlay && { investment: outlay.investment }),
    verdict: verdictOf(gainPerHour, estimateWithin(margins, level, finest.cash), outlay, back, touches),
  }
}

function triedChange(
  { name, kind, changes }: Change,
  trial: Trial,
  money: Money,
  level: number,
): TriedChange {
  return { name, kind, changes, ...answerOf(trial, money, level) }
}

async function bestPairs(
  line: PricedLine,
  changes: readonly Change[],
  base: readonly Course[],
  tried: readonly (readonly Course[])[],
  options: DesignOptions,
  means: Means,
): Promise<{ pairs: TriedPair[]; pairLevel: number }> {
  const mean = (c: number) => estimate(trialOf(line, base, tried[c], [changes[c]]).gains, options.level).mean
  const ranked = changes.map((_, c) => ({ c, mean: mean(c) })).sort((a, b) => b.mean - a.mean)
  const best = ranked.slice(0, IN_PAIRS).map(({ c }) => c)
  const couples = best
    .flatMap((first, i) => best.slice(i + 1).map(second => [first, second] as const))
    .filter(([a, b]) => apart(line, changes[a], changes[b]))
    .slice(0, MOST_PAIRS)
  const pairLevel = bonferroniLevel(options.level, Math.max(1, couples.length))
  const designs = couples.map(([a, b]) => ({
    name: `${changes[a].name} and ${changes[b].name}`,
    line: changes[b].apply(changes[a].apply(line)),
  }))
  const courses = await simulate(designs, options, means)
  const pairs = couples.map(([a, b], p) =>
    triedPair(line, changes[a], changes[b], [base, tried[a], tried[b], courses[p]], pairLevel),
  )
  return { pairs: pairs.sort((one, other) => other.overSum.mean - one.overSum.mean), pairLevel }
}

/** Two changes that leave each other alone: neither undoes or repeats what the other does. */
function apart(line: Line, first: Change, second: Change): boolean {
  if (first.changes.some(change => second.changes.includes(change))) return false
  const both = describeChanges(line, second.apply(first.apply(line)))
  return [...first.changes, ...second.changes].every(change => both.includes(change))
}

function triedPair(
  line: PricedLine,
  first: Change,
  second: Change,
  courses: readonly (readonly Course[])[],
  level: number,
): TriedPair {
  const [base, alone1, alone2, both] = courses
  const cut = commonCut(courses)
  const [alone, one, other, two] = courses.map(replications =>
    replications.map(course => outputOf(course, cut).goodPerHour),
  )
  const sums = alone.map((value, r) => one[r] + other[r] - value)
  const { megawattPerYear: _untold, ...answer } = answerOf(
    trialOf(line, base, both, [first, second]),
    line.money,
    level,
  )
  // Put together from the counts of four lines.
  const overSum = pairedDifference(two, sums, level, resolutionOf(cut, [both, base], [alone1, alone2]))
  return {
    ...{ first: first.name, second: second.name, ...answer, overSum },
    worthMoreThanSum: shown(overSum),
  }
}
