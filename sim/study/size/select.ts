import { bonferroniLevel } from '../../stats/bonferroni.ts'
import { type Judgement, judgeFeasible, type Standard } from '../../stats/feasible.ts'
import type { Ledger } from './ledger.ts'
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
}

/**
 * Judges each finalist against the target on fresh replications, fully sequentially
 * (Andradottir & Kim 2010, see stats/feasible.ts), its share of the error by Bonferroni.
 */
export async function select(
  ledger: Ledger,
  finalists: readonly Choice[],
  { target, tolerance, confidence, first, most }: Selection,
): Promise<Judged[]> {
  const error = 1 - bonferroniLevel(confidence, Math.max(1, finalists.length))
  const standard: Standard = { value: target, tolerance, error }
  const judged: Judged[] = []
  for (const choice of finalists) {
    let values = await ledger.values(choice, first)
    let judgement = judgeFeasible(values, first, standard)
    while (judgement === 'undecided' && values.length < most) {
      values = await ledger.values(choice, Math.min(most, values.length + BATCH))
      judgement = judgeFeasible(values, first, standard)
    }
    judged.push({ choice, judgement, values })
  }
  return judged
}

/** Replications added at a time: two workers have something to do. */
const BATCH = 4
