import { quantity } from '../../base/quantity.ts'
import { type CapacityRow, capacityTable, paperUse } from '../../line/capacity.ts'
import { describeChanges } from '../../line/describe.ts'
import type { Line } from '../../line/types.ts'
import type { Estimate } from '../../stats/estimate.ts'
import type { Judgement } from '../../stats/feasible.ts'
import { estimateWithin } from '../../stats/resolution.ts'
import { stepsWithoutArea, totalCost, unpricedBetween, unpricedParts } from '../designs/cost.ts'
import { type DesignOptions, headOf, type Means, type StudyHead } from '../designs/designs.ts'
import type { StepStand } from '../designs/stand.ts'
import type { WindowHours } from '../designs/window.ts'
import type { PricedLine } from '../payback/payback.ts'
import { keyOf, Ledger } from './ledger.ts'
import { type LeftOut, leaveOut } from './left-out.ts'
import { longEnough, type Paper, topOf } from './search.ts'
import { type Judged, select } from './select.ts'
import {
  type Choice,
  countOf,
  endsOf,
  lineOf,
  type NumberAtEnd,
  type Variable,
  variablesOf,
} from './variables.ts'

export type { LeftOut } from './left-out.ts'

export interface SizeGoal {
  /** Good cells an hour. */
  readonly targetPerHour: number
  /** Outputs closer to the target than this need not be told from it [cells/h]. */
  readonly tolerance: number
  /** Designs that the search may run. */
  readonly most: number
}

/** A number chosen. */
export interface Chosen {
  readonly name: string
  readonly value: number
}

/** A design that was tried to the end. */
export interface TriedDesign {
  readonly numbers: readonly Chosen[]
  /** Against the line as it is, in words. */
  readonly changes: readonly string[]
  readonly investment: number
  /** Investment, and the present value of upkeep, power and wages. */
  readonly wholeLife: number
  readonly floor: number
  readonly goodPerHour: Estimate
  readonly verdict: Judgement
}

export interface SizeStudy extends StudyHead {
  /** The chosen design as a line, and how each of its steps stood. */
  readonly chosenLine?: Line
  readonly stand?: readonly StepStand[]
  /** What was measured of its runs; of those of the largest design when none is chosen. */
  readonly window?: WindowHours
  /** Runs were to be so long, but the line had not filled in them [days]. */
  readonly askedDays?: number
  readonly currency: string
  /** Over these years, and at this interest, what is paid every year counts; absent when the scenario does not say. */
  readonly years?: number
  readonly discountRate?: number
  readonly targetPerHour: number
  readonly tolerance: number
  /** The cheapest design that reaches the target; absent when none was found. */
  readonly chosen?: TriedDesign
  readonly runnerUp?: TriedDesign
  /** Every design that came to the selection, the cheapest first. */
  readonly tried: readonly TriedDesign[]
  readonly leftOut: readonly LeftOut[]
  /** Numbers of the chosen design beyond which `sizing` allows nothing. */
  readonly atEnds: readonly NumberAtEnd[]
  /** Designs that the numbers of `sizing` make, those run in the search, replications in all. */
  readonly designs: number
  readonly designsRun: number
  readonly runs: number
  /** All cheaper designs were run or ruled out. */
  readonly complete: boolean
  /** What the largest design made in the search. */
  readonly largestPerHour: number
  /** Its numbers, and what allows it the fewest good cells on paper: a step, or the feed [cells/h]. Where none was chosen. */
  readonly largest?: {
    readonly numbers: TriedDesign['numbers']
    readonly heldBy: string
    readonly paperPerHour: number
  }
  /** What the line limits besides its numbers, in words; none: nothing. */
  readonly limits: readonly ('floor area' | 'budget')[]
  /** What holds of the chosen design; absent when none was found. */
  readonly guarantee?: string
  /** Parts of the line that have no price, so that no cost counts them. */
  readonly unpriced: readonly string[]
}

/** First stage and most replications of the selection. */
const FIRST = 16
const MOST = 80
/** Paper takes stops as independent, which is some per cent too little where they are many and wait for each other: only what misses by more is ruled out by it. */
const PAPER_SURE = 0.97

/**
 * The cheapest numbers of tools, places and heads that reach a target: bounds on paper, a
 * search by short runs, then a selection with a guarantee on fresh runs.
 *
 * @param line with money (a price for all that `sizing` leaves open) and `sizing`
 * @param options `replications` are those of each design in the search
 */
export async function sizeStudy(
  line: PricedLine,
  goal: SizeGoal,
  options: DesignOptions,
  means: Means,
): Promise<SizeStudy> {
  const variables = variablesOf(line)
  const { targetPerHour, tolerance } = goal
  const ledger = await longEnough(new Ledger(line, variables, options, means), targetPerHour - tolerance)
  const paper = paperOf(line, variables, goal)
  const { judged, found } = await select(ledger, paper, {
    ...{ target: targetPerHour, tolerance, confidence: options.level, first: FIRST, most: MOST },
    designs: goal.most,
  })
  const byCost = [...judged].sort((a, b) => paper.cost(a.choice) - paper.cost(b.choice))
  const tried = byCost.map(one => triedDesign(ledger, line, one, options.level))
  const reaching = byCost.flatMap(({ judgement }, i) => (judgement === 'reaches' ? [i] : []))
  const [chosen, runnerUp] = reaching
  const leftOut = chosen === undefined ? [] : await leaveOut(ledger, byCost[chosen], options.level)
  return {
    ...headOf(line, ledger.options),
    ...(ledger.options.days > options.days && { askedDays: options.days }),
    ...costsOf(line),
    targetPerHour,
    tolerance,
    ...(chosen === undefined
      ? { ...windowIn(ledger), largest: largestOf(ledger) }
      : { chosen: tried[chosen], ...designOf(ledger, byCost[chosen], options.level) }),
    ...(runnerUp !== undefined && { runnerUp: tried[runnerUp] }),
    tried,
    leftOut,
    atEnds: chosen === undefined ? [] : endsOf(variables, byCost[chosen].choice),
    designs: countOf(variables),
    designsRun: ledger.designs(),
    runs: ledger.runs,
    complete: found.complete,
    largestPerHour: found.largest,
    limits: [
      ...(line.sizing?.floorArea === undefined ? [] : (['floor area'] as const)),
      ...(line.sizing?.budget === undefined ? [] : (['budget'] as const)),
    ],
    ...(chosen !== undefined && { guarantee: guaranteeOf(goal, options.level, judged.length) }),
    unpriced: unpricedParts(line, line.money),
  }
}

/** How costs are counted. */
function costsOf({ money: { currency, years, discountRate } }: PricedLine) {
  return {
    currency,
    ...(years !== undefined && { years }),
    ...(discountRate !== undefined && { discountRate: quantity('share', discountRate) }),
  }
}

function designOf(ledger: Ledger, { choice }: Judged, level: number) {
  return {
    chosenLine: ledger.lineOf(choice),
    stand: ledger.stand(choice, level),
    window: ledger.window(choice),
  }
}

/** Where none is chosen, what was measured of the largest. */
function windowIn(ledger: Ledger): { window?: WindowHours } {
  const found = ledger.measured(topOf(ledger.variables))
  return found === undefined ? {} : { window: found.window }
}

function largestOf(ledger: Ledger): NonNullable<SizeStudy['largest']> {
  const top = topOf(ledger.variables)
  const { table, good } = paperUse(ledger.lineOf(top))
  const weakest = table.find(row => row.lowest) as CapacityRow
  const fed = good * 3600 < weakest.goodPerHour
  return {
    numbers: ledger.variables.map(({ name, values }, v) => ({ name, value: values[top[v]] })),
    heldBy: fed ? 'the feed' : weakest.step,
    paperPerHour: good * 3600,
  }
}

function guaranteeOf({ targetPerHour, tolerance }: SizeGoal, level: number, judged: number): string {
  const percent = `${Number((level * 100).toPrecision(4))} %`
  const [least, most] = [targetPerHour - tolerance, targetPerHour + tolerance].map(value =>
    value.toLocaleString('en-US', { maximumFractionDigits: 1 }),
  )
  return (
    `With probability ${percent} at least, the design chosen makes more than ${least} cells/h, and of the ` +
    `${judged} that came to the selection no cheaper one makes ${most} or more ` +
    '(Andradottir & Kim 2010, fully sequential, on fresh runs). Designs ruled out before were ruled out by ' +
    'paper capacity or by short runs, for which no probability is claimed.'
  )
}

function triedDesign(
  ledger: Ledger,
  line: PricedLine,
  { choice, judgement, values }: Judged,
  level: number,
): TriedDesign {
  const { variables } = ledger
  const design = lineOf(line, variables, choice)
  const { investment, wholeLife, floor } = totalCost(design, line.money)
  return {
    numbers: variables.map(({ name, values: all }, v) => ({ name, value: all[choice[v]] })),
    changes: describeChanges(line, design),
    investment,
    wholeLife,
    floor,
    goodPerHour: estimateWithin(values, level, ledger.resolution(choice)),
    verdict: judgement,
  }
}

/** What the paper says of each choice; remembered, since the search asks often. */
function paperOf(line: PricedLine, variables: readonly Variable[], { targetPerHour }: SizeGoal): Paper {
  const { sizing = {}, money } = line
  const floor = sizing.floorArea === undefined ? Infinity : quantity('area', sizing.floorArea)
  const budget = sizing.budget ?? Infinity
  const known = new Map<string, { cost: number; allowed: boolean; reaches: boolean }>()
  const look = (choice: Choice) => {
    const key = keyOf(choice)
    const old = known.get(key)
    if (old) return old
    const design = lineOf(line, variables, choice)
    const total = totalCost(design, money)
    const made = {
      cost: total.wholeLife,
      allowed: total.floor <= floor && total.investment <= budget,
      reaches: capacityTable(design).every(row => row.goodPerHour >= PAPER_SURE * targetPerHour),
    }
    known.set(key, made)
    return made
  }
  return {
    cost: choice => look(choice).cost,
    allowed: choice => look(choice).allowed,
    reaches: choice => look(choice).reaches,
  }
}

/** What `size` cannot do without, one sentence each. */
export function missingForSizing(line: PricedLine): string[] {
  const variables = variablesOf(line)
  if (variables.length === 0) return ['the line has no "sizing" that leaves anything open']
  const top = topOf(variables)
  const areas = line.sizing?.floorArea === undefined ? [] : stepsWithoutArea(line, line.money)
  const least = variables.map(() => 0)
  const prices = variables.flatMap(({ name, values }, v) => {
    if (values.length === 1) return []
    const one = lineOf(line, variables, least)
    const other = lineOf(
      line,
      variables,
      least.map((index, i) => (i === v ? top[v] : index)),
    )
    const unpriced = unpricedBetween(one, other, line.money)
    return unpriced.length === 0
      ? []
      : [`money has no price for ${unpriced.join(', ')}, which "${name}" needs`]
  })
  return [
    ...prices,
    ...areas.map(
      step => `money has no "floorArea" for a tool of "${step}", which "sizing.floorArea" asks for`,
    ),
  ]
}
