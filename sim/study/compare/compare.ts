import { describeChanges } from '../../line/describe.ts'
import type { Line } from '../../line/types.ts'
import { compile } from '../../plan/compile.ts'
import { bonferroniLevel } from '../../stats/bonferroni.ts'
import { type Estimate, estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import { estimateWithin } from '../../stats/resolution.ts'
import { rinottConstant, rinottReplications } from '../../stats/rinott.ts'
import { mean, standardDeviation } from '../../stats/summary.ts'
import { estimateOf } from '../assemble.ts'
import { type Output, outputOf } from '../designs/course.ts'
import {
  commonCut,
  type Design,
  type DesignOptions,
  headOf,
  type Means,
  type StudyHead,
  simulate,
} from '../designs/designs.ts'
import { marginKnownTo, marginPerYear, megawattPerYear } from '../designs/pricing.ts'
import { type StepStand, standOf } from '../designs/stand.ts'
import { type Shown, shown } from '../designs/verdict.ts'
import { resolutionOf, type WindowHours, windowOf } from '../designs/window.ts'

/** What one design makes. Intervals each at the level of the study. */
export interface DesignFigures {
  readonly name: string
  readonly goodPerHour: Estimate
  readonly megawattPerYear?: Estimate
  /** What its cells bring in a year, less wafers and what steps add to them; when the line knows money. */
  readonly marginPerYear?: Estimate
  /** Currency of the margin. */
  readonly currency?: string
  readonly wip: Estimate
  readonly throughputHours: Estimate
}

/** Two designs: `second` less `first`. The intervals of all pairs hold together. */
export interface Pair {
  readonly first: string
  readonly second: string
  readonly gainPerHour: Estimate
  readonly megawattPerYear?: Estimate
  readonly verdict: Shown
  /** What differs between the two lines, in words. */
  readonly changes: readonly string[]
}

export interface CompareStudy extends StudyHead {
  /** How each step of the first design stood, for the picture of it. */
  readonly stand: readonly StepStand[]
  readonly window: WindowHours
  readonly designs: readonly DesignFigures[]
  readonly pairs: readonly Pair[]
  /** Level of each interval of a pair, so that all of them hold with `level`. */
  readonly pairLevel: number
  /** Designs that no other is shown to make more than, the one with the highest mean first. */
  readonly best: readonly string[]
  /** For the next study: how many replications would pick the best, if it is better by `worth` cells/h. */
  readonly plan?: { readonly worth: number; readonly replications: number; readonly probability: number }
}

/** Part of the output that is worth telling apart where nobody says otherwise. */
const WORTH = 0.005

/**
 * Simulates designs side by side on common random streams and compares each with each.
 * Intervals of the differences: paired-t, Bonferroni over all pairs.
 *
 * @param designs two or more, with names of their own
 */
export async function compareDesigns(
  designs: readonly Design[],
  options: DesignOptions,
  means: Means,
): Promise<CompareStudy> {
  const courses = await simulate(designs, options, means)
  const cut = commonCut(courses)
  const outputs = courses.map(replications => replications.map(course => outputOf(course, cut)))
  const count = (designs.length * (designs.length - 1)) / 2
  const pairLevel = bonferroniLevel(options.level, count)
  const pairs = designs.flatMap((_, i) =>
    designs.slice(i + 1).map((_, k) =>
      pairOf(designs, outputs, i, i + 1 + k, {
        level: pairLevel,
        finest: resolutionOf(cut, [courses[i + 1 + k]], [courses[i]]),
      }),
    ),
  )
  const figures = designs.map((design, d) =>
    figuresOf(design, outputs[d], { level: options.level, finest: resolutionOf(cut, [courses[d]]) }),
  )
  const plan = nextPlan(outputs, options.level)
  return {
    ...headOf(designs[0].line, options),
    window: windowOf(courses[0], cut),
    stand: standOf(compile(designs[0].line).steps, courses[0], cut, options.level),
    designs: figures,
    pairs,
    pairLevel,
    best: bestOf(figures, pairs),
    ...(plan === undefined ? {} : { plan }),
  }
}

/** Level of intervals, and by how much what is counted can be off [cells/h]. */
interface Surety {
  readonly level: number
  readonly finest: number
}

function figuresOf(
  { name, line }: Design,
  outputs: readonly Output[],
  { level, finest }: Surety,
): DesignFigures {
  const { money } = line
  const { steps } = compile(line)
  return {
    name,
    goodPerHour: estimateWithin(
      outputs.map(o => o.goodPerHour),
      level,
      finest,
    ),
    ...(line.wafer && {
      megawattPerYear: estimateWithin(
        outputs.map(o => megawattPerYear(line, o) ?? 0),
        level,
        megawattPerYear(line, { ...outputs[0], goodPerHour: finest }) ?? 0,
      ),
    }),
    ...(money && {
      marginPerYear: estimateWithin(
        outputs.map(o => marginPerYear(line, money, steps, o)),
        level,
        marginKnownTo(money, [{ line, steps, outputs }], finest),
      ),
      currency: money.currency,
    }),
    wip: estimate(
      outputs.map(o => o.wip),
      level,
    ),
    throughputHours: estimateOf(
      outputs.map(o => o.throughputHours),
      level,
    ),
  }
}

function pairOf(
  designs: readonly Design[],
  outputs: readonly (readonly Output[])[],
  first: number,
  second: number,
  { level, finest }: Surety,
): Pair {
  const difference = (figure: (line: Line, output: Output) => number) =>
    pairedDifference(
      outputs[second].map(o => figure(designs[second].line, o)),
      outputs[first].map(o => figure(designs[first].line, o)),
      level,
      figure(designs[first].line, { ...outputs[first][0], goodPerHour: finest }),
    )
  const gainPerHour = difference((_, o) => o.goodPerHour)
  const watts = designs[first].line.wafer && designs[second].line.wafer
  return {
    first: designs[first].name,
    second: designs[second].name,
    gainPerHour,
    ...(watts && { megawattPerYear: difference((line, o) => megawattPerYear(line, o) ?? 0) }),
    verdict: shown(gainPerHour),
    changes: differences(designs[first].line, designs[second].line),
  }
}

/** Keys of a line that are no part of what is built. */
const NOT_BUILT = ['line', 'from', 'notes', 'run', 'target', 'sizing']

function differences(first: Line, second: Line): string[] {
  const bare = (line: Line) =>
    Object.fromEntries(Object.entries(line).filter(([key]) => !NOT_BUILT.includes(key)))
  return describeChanges(bare(first) as unknown as Line, bare(second) as unknown as Line)
}

function bestOf(designs: readonly DesignFigures[], pairs: readonly Pair[]): string[] {
  const beaten = new Set(
    pairs.flatMap(({ first, second, verdict }) =>
      verdict === 'more' ? [first] : verdict === 'less' ? [second] : [],
    ),
  )
  return designs
    .filter(({ name }) => !beaten.has(name))
    .sort((a, b) => b.goodPerHour.mean - a.goodPerHour.mean)
    .map(({ name }) => name)
}

/** Rinott's rule takes the designs as independent: on common streams it asks for more than enough. */
function nextPlan(outputs: readonly (readonly Output[])[], level: number): CompareStudy['plan'] {
  const n = outputs[0].length
  if (n < 2 || outputs.length < 2) return undefined
  const spread = outputs.map(replications => standardDeviation(replications.map(o => o.goodPerHour)))
  const most = Math.max(...outputs.map(replications => mean(replications.map(o => o.goodPerHour))))
  const worth = WORTH * most
  if (!(worth > 0) || !(level > 1 / outputs.length)) return undefined
  const h = rinottConstant(outputs.length, n, level)
  const replications = rinottReplications(h, Math.max(...spread), worth, n)
  return { worth, replications, probability: level }
}
