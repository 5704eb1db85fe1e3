import { type Judgement, judgeFeasible, type Standard } from '../../stats/feasible.ts'
import { mean } from '../../stats/summary.ts'
import { keyOf, type Ledger } from './ledger.ts'
import { type Found, type Paper, search } from './search.ts'
import type { Choice } from './variables.ts'

/** A finalist after its check. */
export interface Judged {
  readonly choice: Choice
  readonly judgement: Judgement
  /** Good output of its fresh replications [cells/h]. */
  readonly values: readonly number[]
}

export interface Selection {
  readonly target: number
  /** Outputs closer to the target than this need not be told from it [cells/h]. */
  readonly tolerance: number
  /** Probability that all verdicts are right. */
  readonly confidence: number
  /** Replications of the first stage, and at most. */
  readonly first: number
  readonly most: number
  /** Designs that a search may run. */
  readonly designs: number
}

export interface Selected {
  readonly judged: readonly Judged[]
  readonly found: Found
}

/** Searches at most, and designs judged in all: what the error is shared over. */
const ROUNDS = 3
const MOST_JUDGED = 8
/** Replications added at a time: two workers have something to do. */
const BATCH = 4

/**
 * Searches for promising designs and judges them, the cheapest first, against the target on
 * fresh replications, fully sequentially (Andradottir & Kim 2010, see stats/feasible.ts),
 * each with an equal share of the error. Short runs of few replications, the best of many,
 * promise too much: by as much as a design that is not shown to reach was overstated, the
 * next search asks for more.
 */
export async function select(ledger: Ledger, paper: Paper, goal: Selection): Promise<Selected> {
  const wanted = goal.target - goal.tolerance
  const judged: Judged[] = []
  let overstated = 0
  let found = await search(ledger, paper, { wanted, most: goal.designs })
  for (let round = 1; ; round++) {
    const asked = wanted + overstated
    for (const choice of found.promising) {
      if (judged.length === MOST_JUDGED || isJudged(judged, choice)) continue
      const [promised] = await ledger.pilot([choice])
      // By what has been learnt since the search it does not look like reaching any more.
      if (wanted + overstated > asked && promised < wanted + overstated) continue
      const one = await judge(ledger, choice, goal)
      judged.push(one)
      if (one.judgement !== 'reaches') overstated = Math.max(overstated, promised - mean(one.values))
    }
    if (round === ROUNDS || judged.length === MOST_JUDGED || overstated === 0) break
    if (judged.some(({ judgement }) => judgement === 'reaches')) break
    found = await next(ledger, paper, { wanted: wanted + overstated, most: goal.designs }, found)
    if (found.promising.every(choice => isJudged(judged, choice))) break
  }
  return { judged, found }
}

/** With more asked for than even the largest design promises, that one is still worth its check. */
async function next(
  ledger: Ledger,
  paper: Paper,
  goal: { wanted: number; most: number },
  before: Found,
): Promise<Found> {
  const found = await search(ledger, paper, goal)
  if (found.promising.length > 0) return found
  const top = ledger.variables.map(({ values }) => values.length - 1)
  return paper.allowed(top) ? { ...before, promising: [top], complete: false } : found
}

function isJudged(judged: readonly Judged[], choice: Choice): boolean {
  return judged.some(one => keyOf(one.choice) === keyOf(choice))
}

async function judge(ledger: Ledger, choice: Choice, goal: Selection): Promise<Judged> {
  const error = (1 - goal.confidence) / MOST_JUDGED
  const standard: Standard = { value: goal.target, tolerance: goal.tolerance, error }
  let values = await ledger.values(choice, goal.first)
  let judgement = judgeFeasible(values, goal.first, standard)
  while (judgement === 'undecided' && values.length < goal.most) {
    values = await ledger.values(choice, Math.min(goal.most, values.length + BATCH))
    judgement = judgeFeasible(values, goal.first, standard)
  }
  return { choice, judgement, values }
}
