import { beginsEarly } from '../designs/window.ts'
import type { Ledger } from './ledger.ts'
import { keyOf } from './ledger.ts'
import type { Choice, Variable } from './variables.ts'

/** What the search needs to know of a choice without running it. */
export interface Paper {
  /** What it costs; the search looks for the least. */
  cost(choice: Choice): number
  /** Within floor and budget. */
  allowed(choice: Choice): boolean
  /** On paper it can reach the target. */
  reaches(choice: Choice): boolean
}

/** What the search asks for. */
export interface SearchGoal {
  /** Output that a design must look like reaching in short runs [cells/h]. */
  readonly wanted: number
  /** Designs that may be run. */
  readonly most: number
}

export interface Found {
  /** Designs that look like reaching the target, the cheapest first; empty when none does. */
  readonly promising: readonly Choice[]
  /** Every allowed design cheaper than the first promising one has been run, or cannot reach the target by a bound. */
  readonly complete: boolean
  /** What the largest design allowed made, when nothing is promising. */
  readonly largest: number
}

/** Runs are made no longer than this for the sake of the largest design [days]. */
const LONGEST = 60
/** A line that keeps less than this share of what it starts is full. */
const KEPT = 0.01

/** The choice of the most of everything. */
export function topOf(variables: readonly Variable[]): Choice {
  return variables.map(({ values }) => values.length - 1)
}

/**
 * Runs begin with an empty line, and what it makes while it fills says too little of it. So what is
 * measured begins when a cell of the largest design is through, and runs are made twice as long until it
 * can. They are too where that design misses and the line still keeps part of what it starts.
 */
export async function longEnough(ledger: Ledger, wanted: number): Promise<Ledger> {
  const top = topOf(ledger.variables)
  for (let one = ledger; ; one = one.longer(2 * one.options.days)) {
    await one.pilot([top])
    const first = one.measured(top)
    if (first?.window.stayHours !== undefined && beginsEarly(first.window))
      one.beginAt(first.window.stayHours)
    const found = one.measured(top)
    if (found === undefined || 2 * one.options.days > LONGEST) return one
    const fills = beginsEarly(found.window) || (found.good < wanted && found.kept > KEPT)
    if (!fills) return one
  }
}

/** Designs looked at on paper at most. */
const MOST_SEEN = 20_000
/** Promising designs handed to the selection. */
const FINALISTS = 3

/**
 * Looks for the cheapest designs that reach the target, by short runs.
 *
 * 1. The least value of each variable alone, all others at their most: as more never makes
 *    a line slower, no design with less can reach the target.
 * 2. From the design of all these least values upward in order of cost: whatever misses is
 *    followed by the designs with one step more of one variable. So designs are run in
 *    rising order of cost, and the first ones that reach the target are the cheapest.
 */
export async function search(ledger: Ledger, paper: Paper, goal: SearchGoal): Promise<Found> {
  const { variables } = ledger
  const top = topOf(variables)
  const [largest] = await ledger.pilot([top])
  if (largest < goal.wanted) return { promising: [], complete: true, largest }
  const least = await leastValues(ledger, paper, top, goal)
  return { ...(await upward(ledger, paper, least, goal)), largest }
}

async function leastValues(ledger: Ledger, paper: Paper, top: Choice, goal: SearchGoal): Promise<number[]> {
  const least: number[] = []
  for (let v = 0; v < top.length; v++) {
    const at = (index: number) => top.map((most, other) => (other === v ? index : most))
    let [low, high] = [0, top[v]]
    while (low < high) {
      const middle = (low + high) >> 1
      const enough = paper.reaches(at(middle)) && (await ledger.pilot([at(middle)]))[0] >= goal.wanted
      if (enough) high = middle
      else low = middle + 1
    }
    least.push(high)
  }
  return least
}

async function upward(
  ledger: Ledger,
  paper: Paper,
  least: Choice,
  goal: SearchGoal,
): Promise<Omit<Found, 'largest'>> {
  const promising: Choice[] = []
  const queue: Choice[] = [least]
  const seen = new Set([keyOf(least)])
  let ran = 0
  while (queue.length > 0 && promising.length < FINALISTS) {
    const choice = takeCheapest(queue, paper)
    if (!paper.allowed(choice)) continue
    if (seen.size > MOST_SEEN) return { promising, complete: false }
    let reaches = false
    if (paper.reaches(choice)) {
      if (ran++ >= goal.most) return { promising, complete: false }
      reaches = (await ledger.pilot([choice]))[0] >= goal.wanted
    }
    if (reaches) promising.push(choice)
    for (const next of larger(choice, ledger.variables)) {
      if (seen.has(keyOf(next))) continue
      seen.add(keyOf(next))
      queue.push(next)
    }
  }
  return { promising, complete: true }
}

function takeCheapest(queue: Choice[], paper: Paper): Choice {
  let best = 0
  for (let i = 1; i < queue.length; i++) if (paper.cost(queue[i]) < paper.cost(queue[best])) best = i
  return queue.splice(best, 1)[0]
}

function larger(choice: Choice, variables: readonly Variable[]): Choice[] {
  return variables.flatMap(({ values }, v) =>
    choice[v] + 1 < values.length ? [choice.map((index, other) => (other === v ? index + 1 : index))] : [],
  )
}
