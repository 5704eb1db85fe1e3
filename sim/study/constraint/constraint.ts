import { quoted, wordList } from '../../base/problems.ts'
import { capacityTable } from '../../line/capacity.ts'
import type { Line } from '../../line/types.ts'
import { activeWindow } from '../../measure/active.ts'
import type { Rows } from '../../measure/rows.ts'
import { compile } from '../../plan/compile.ts'
import { bonferroniLevel } from '../../stats/bonferroni.ts'
import { type Estimate, estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import { estimateWithin } from '../../stats/resolution.ts'
import { mean } from '../../stats/summary.ts'
import { stepsOf, withSpeed } from '../designs/changes.ts'
import { type Course, courseOf, outputOf } from '../designs/course.ts'
import {
  commonCut,
  type DesignOptions,
  headOf,
  type Means,
  runAll,
  type StudyHead,
  simulate,
} from '../designs/designs.ts'
import { type StepStand, standOf } from '../designs/stand.ts'
import { shown } from '../designs/verdict.ts'
import { resolutionOf, type WindowHours, windowOf } from '../designs/window.ts'
import { jobsOf, whole } from '../jobs.ts'

/** The evidence about one step, side by side. */
export interface ConstraintStep extends StepStand {
  /** Good cells that the line would make if this step alone limited it, on paper. */
  readonly staticPerHour: number
  /** Share of time in which it was the momentary constraint: a tool of it in the longest active period. */
  readonly momentaryShare: Estimate
  /** Good cells more with this step alone faster. The intervals of all steps hold together. */
  readonly gainPerHour: Estimate
}

/** Who holds the line: one step, several that cannot be told apart, or none that is shown to. */
export interface Held {
  readonly by: 'one step' | 'several steps' | 'no step shown'
  /** The step with the largest gain first; also those whose own gain is not shown, where it is not shown to be smaller either. */
  readonly steps: readonly string[]
  /** The step with the largest gain, where it gains little and waits most of its time: what holds the line is no step. */
  readonly waits?: string
}

export interface ConstraintStudy extends StudyHead {
  readonly window: WindowHours
  readonly goodPerHour: Estimate
  /** By how much each step was made faster, as a share of its speed. */
  readonly faster: number
  readonly steps: readonly ConstraintStep[]
  readonly held: Held
  /** `held` in words. */
  readonly verdict: string
  /** How often a day the momentary constraint goes from one step to another. */
  readonly shiftsPerDay: Estimate
  /** Level of the interval of each gain, so that all of them hold with `level`. */
  readonly gainLevel: number
}

export const FASTER = 0.1

/**
 * Which step holds the line: by experiment, each step in turn made faster on common
 * random streams; beside it the paper rate, the states, and the share of time as
 * momentary constraint (Roser, Nakano & Tanaka 2002). The verdict goes by the experiment.
 */
export async function constraintStudy(
  line: Line,
  options: DesignOptions,
  means: Means,
): Promise<ConstraintStudy> {
  const steps = stepsOf(line)
  const designs = steps.map(step => ({
    name: `${step.step} ${FASTER * 100} % faster`,
    line: withSpeed(line, step, 1 + FASTER),
  }))
  const jobs = jobsOf(line, line.line, options, 0, options.replications)
  const base = await runAll(
    jobs.map(job => ({ ...job, records: 'active periods' as const })),
    means,
    whole,
    designs.length * options.replications,
  )
  const baseCourses = base.map(courseOf)
  const courses = await simulate(designs, options, means)
  const cut = commonCut([baseCourses, ...courses])
  const good = (replications: readonly ReturnType<typeof courseOf>[]) =>
    replications.map(course => outputOf(course, cut).goodPerHour)
  const gainLevel = bonferroniLevel(options.level, steps.length)
  const faster = courses.map(good)
  const gains = faster.map((values, s) =>
    pairedDifference(values, good(baseCourses), gainLevel, resolutionOf(cut, [courses[s]], [baseCourses])),
  )
  const names = steps.map(step => step.step)
  const evidence = evidenceOf(line, base, baseCourses, cut, options.level)
  const made = mean(good(baseCourses))
  const waiting = (s: number) => waitsFor(evidence.of(names[s]), gains[s].mean / made)
  const held = heldBy(names, gains, waiting, (one, other) =>
    pairedDifference(
      faster[one],
      faster[other],
      gainLevel,
      resolutionOf(cut, [courses[one]], [courses[other]]),
    ),
  )
  return {
    ...headOf(line, options),
    window: windowOf(baseCourses, cut),
    goodPerHour: estimateWithin(good(baseCourses), options.level, resolutionOf(cut, [baseCourses])),
    faster: FASTER,
    steps: names.map((name, s) => ({ ...evidence.of(name), gainPerHour: gains[s] })),
    held,
    verdict: verdictOf(held),
    shiftsPerDay: evidence.shiftsPerDay,
    gainLevel,
  }
}

/** Less of the output than this, in parts of the speed that a step has gained, is not what a constraint gains. */
const LITTLE = 0.1
/** Who waits for more of the scheduled time than this holds nobody up. */
const WAITS = 0.5

/** A step that gains little and waits most of its time is no constraint: each wafer is through a little earlier, that is all. */
function waitsFor({ states }: Pick<ConstraintStep, 'states'>, gain: number): boolean {
  const waits = (states.starved.mean + states.blocked.mean) / (1 - states.off.mean)
  return gain < LITTLE * FASTER && waits > WAITS
}

/**
 * By the gains: the largest of those shown to be above zero, and all that are not shown to be below it.
 * Also those whose own gain is not shown: that one is shown and the other is not says nothing of
 * the difference between them.
 */
function heldBy(
  names: readonly string[],
  gains: readonly Estimate[],
  waiting: (step: number) => boolean,
  difference: (one: number, other: number) => Estimate,
): Held {
  const ranked = names.map((_, s) => s).sort((a, b) => gains[b].mean - gains[a].mean)
  const top = ranked.find(s => shown(gains[s]) === 'more')
  if (top === undefined) return { by: 'no step shown', steps: [] }
  if (waiting(top)) return { by: 'no step shown', steps: [], waits: names[top] }
  const alike = ranked.filter(s => s === top || shown(difference(top, s)) !== 'more')
  return { by: alike.length === 1 ? 'one step' : 'several steps', steps: alike.map(s => names[s]) }
}

/** Steps that the verdict names; of more it says how many. */
const MOST_NAMED = 4

/** Who holds the line, in a sentence. */
export function verdictOf({ by, steps }: Held): string {
  const named = steps.map(quoted)
  if (by === 'one step') return `${named[0]} holds the line.`
  if (by === 'no step shown') return 'No single step is shown to hold the line.'
  const more = steps.length - MOST_NAMED + 1
  const told = more > 1 ? [...named.slice(0, MOST_NAMED - 1), `one of ${more} others`] : named
  const together = steps.length === 2 ? 'both do together' : 'several of them do together'
  return `${wordList(told, 'or')} holds the line, or ${together}: no difference shown between their gains.`
}

function evidenceOf(
  line: Line,
  base: readonly Rows[],
  courses: readonly Course[],
  cut: number,
  level: number,
) {
  const names = compile(line).steps
  const stand = standOf(names, courses, cut, level)
  const capacity = capacityTable(line)
  const active = base.map(rows => {
    if (!rows.active) throw new Error('the runner has not recorded active periods')
    return activeWindow(rows.active, rows.blocks, cut)
  })
  return {
    shiftsPerDay: estimate(
      active.map(one => one.shiftsPerDay),
      level,
    ),
    of(name: string): Omit<ConstraintStep, 'gainPerHour'> {
      const index = names.indexOf(name)
      return {
        ...stand[index],
        staticPerHour: capacity.find(row => row.step === name)?.goodPerHour ?? 0,
        momentaryShare: estimate(
          active.map(one => one.shares[index] ?? 0),
          level,
        ),
      }
    },
  }
}
