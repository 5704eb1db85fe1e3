import { type Judgement, judgeFeasible, type Standard } from '../../stats/feasible.ts'
import { mean } from '../../stats/summary.ts'
import { keyOf, type Ledger } from './ledger.ts'
import { type Found, type Paper, search, topOf } from './search.ts'
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
const ROUNDS = 4
const MOST_JUDGED = 8
/** Replications added at a time: two workers have something to do. */
const BATCH = 4

/**
 * Searches for promising designs and judges them, the cheapest first, against the target on
 * fresh replications, fully sequentially (Andradottir & Kim 2010, see stats/feasible.ts),
 * each with an equal share of the error. Short runs of few replications, the best of many,
 * promise too much: by as much as a design that is not shown to reach was overstated, the
 * next search asks for more, and for more than that one promised. Where none of them reaches
 * the largest design is judged: it may be worth more than no answer.
 */
export async function select(ledger: Ledger, paper: Paper, goal: Selection): Promise<Selected> {
  const judged: Judged[] = []
  let wanted = goal.target - goal.tolerance
  let found = await search(ledger, paper, { wanted, most: goal.designs })
  for (let round = 1; ; round++) {
    const asked = wanted
    for (const choice of found.promising) {
      // One is left for the largest.
      if (judged.length === MOST_JUDGED - 1 || isJudged(judged, choice)) continue
      const [promised] = await ledger.pilot([choice])
      // By what has been learnt since the search it does not look like reaching any more.
      if (promised < wanted) continue
      const one = await judge(ledger, choice, goal)
      judged.push(one)
      if (one.judgement === 'reaches') continue
      const overstated = Math.max(0, promised - mean(one.values))
      wanted = Math.max(wanted, goal.target - goal.tolerance + overstated, promised + goal.tolerance)
    }
    if (judged.some(({ judgement }) => judgement === 'reaches')) return { judged, found }
    if (round === ROUNDS || wanted === asked) break
    found = await search(ledger, paper, { wanted, most: goal.designs })
  }
  return lastOf(ledger, paper, goal, { judged, found })
}

/** With more asked for than all others are, the largest design is still worth its check. */
async function lastOf(ledger: Ledger, paper: Paper, goal: Selection, so: Selected): Promise<Selected> {
  const top = topOf(ledger.variables)
  const { judged, found } = so
  if (judged.length === 0 || isJudged(judged, top) || !paper.allowed(top)) return so
  const [promised] = await ledger.pilot([top])
  if (promised < goal.target - goal.tolerance) return so
  return { judged: [...judged, await judge(ledger, top, goal)], found: { ...found, complete: false } }
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
