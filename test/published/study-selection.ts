import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import tychei from 'seedrandom/lib/tychei.js'
import { type Judgement, judgeFeasible } from '../../sim/stats/feasible.ts'
import { rinottConstant, rinottReplications } from '../../sim/stats/rinott.ts'
import { mean, standardDeviation } from '../../sim/stats/summary.ts'
import type { Ledger } from '../../sim/study/size/ledger.ts'
import { type Selected, select } from '../../sim/study/size/select.ts'
import type { Choice } from '../../sim/study/size/variables.ts'
import type { StudyCheck } from './check.ts'
import { repeated, share } from './study-run.ts'

/**
 * The guarantees behind `compare` and `size`, on made-up designs: outputs are normal with
 * known means, as unfavourable as the guarantee allows. What is promised is a least
 * probability, so more is no fault.
 */
const CONFIDENCE = 0.95

/** Normal values from a stream of their own. */
function normals(seed: string): (mean: number, sd: number) => number {
  const next = tychei(seed)
  return (mean, sd) => normalQuantile(next(), mean, sd)
}

const atLeast = (came: readonly boolean[]) => ({
  ...share('share that is right, at least', CONFIDENCE, came),
  atLeast: true as const,
})

/** Picks the best of k by Rinott's two stages: one is better by the difference worth telling, the others are equal. */
function pickedRight(seed: string, k: number, h: number): boolean {
  const [first, delta] = [10, 1]
  const draw = normals(seed)
  const found = Array.from({ length: k }, (_, system) => {
    const [at, sd] = [system === 0 ? delta : 0, 2 + system]
    const values = Array.from({ length: first }, () => draw(at, sd))
    const wanted = rinottReplications(h, standardDeviation(values), delta, first)
    while (values.length < wanted) values.push(draw(at, sd))
    return mean(values)
  })
  return found.every((value, system) => system === 0 || value < found[0])
}

const rinott: readonly StudyCheck[] = (
  [
    ['D-11', 2],
    ['D-12', 5],
  ] as const
).map(([id, k]) => ({
  ...{ id, family: 'studies' },
  what: `compare: the best of ${k} by Rinott's rule, better by the difference worth telling, spreads from 2 to ${k + 1} times that`,
  source: 'Rinott 1978, Communications in Statistics A 7, 799-811 (from memory): right with probability 0.95',
  run: { days: 0, replications: 10, repeats: 3000 },
  async find(run) {
    const h = rinottConstant(k, 10, CONFIDENCE)
    return [atLeast(await repeated(run, ({ seed }) => pickedRight(seed, k, h)))]
  },
}))

const ANDRADOTTIR_KIM =
  'Andradottir & Kim 2010, Naval Research Logistics 57, 119-136 (from memory): right with probability 0.95'

/** What the check says of a design whose mean is one tolerance away from the standard of 10. */
function verdictOn(seed: string, at: number): Judgement {
  const draw = normals(seed)
  const standard = { value: 10, tolerance: 1, error: 1 - CONFIDENCE }
  const values = Array.from({ length: 8 }, () => draw(at, 2))
  for (;;) {
    const judgement = judgeFeasible(values, 8, standard)
    if (judgement !== 'undecided') return judgement
    values.push(draw(at, 2))
  }
}

const feasible: readonly StudyCheck[] = (
  [
    ['D-13', 'above', 11, 'reaches'],
    ['D-14', 'below', 9, 'misses'],
  ] as const
).map(([id, where, at, right]) => ({
  ...{ id, family: 'studies' },
  what: `size: a design one tolerance ${where} the target is found to be so`,
  source: ANDRADOTTIR_KIM,
  run: { days: 0, replications: 8, repeats: 3000 },
  async find(run) {
    return [atLeast(await repeated(run, ({ seed }) => verdictOn(seed, at) === right))]
  },
}))

/** Means of four designs, the cheapest first: two miss the target of 100 by the tolerance of 2, two reach it. */
const MADE = [90, 98, 102, 120]
const SPREAD = 3
const FIRST_GOOD = 2

/** A whole selection among them: short runs promise what each makes and chance, the check has fresh values. */
async function selected(seed: string): Promise<Selected> {
  const draw = normals(seed)
  const fresh = MADE.map((): number[] => [])
  const ledger = {
    variables: [{ name: 'tools', values: MADE.map((_, index) => index + 1) }],
    pilot: async (choices: readonly Choice[]) => choices.map(([index]) => promised[index]),
    values: async ([index]: Choice, count: number) => {
      while (fresh[index].length < count) fresh[index].push(draw(MADE[index], SPREAD))
      return fresh[index]
    },
  } as unknown as Ledger
  const promised = MADE.map(made => draw(made, SPREAD / Math.SQRT2))
  const paper = { cost: ([index]: Choice) => index, allowed: () => true, reaches: () => true }
  const goal = { target: 100, tolerance: 2, confidence: CONFIDENCE, first: 8, most: 400, designs: 20 }
  return select(ledger, paper, goal)
}

/** Every verdict is right: none of the designs that miss is taken, none that reaches is turned down. */
const whole: StudyCheck = {
  ...{ id: 'D-15', family: 'studies' },
  what: 'size: among four designs, two of them one tolerance away from the target, all verdicts of the selection are right',
  source: ANDRADOTTIR_KIM,
  run: { days: 0, replications: 8, repeats: 1000 },
  async find(run) {
    const came = await repeated(run, async ({ seed }) => {
      const { judged } = await selected(seed)
      const right = judged.every(
        ({ choice: [index], judgement }) => judgement === (index >= FIRST_GOOD ? 'reaches' : 'misses'),
      )
      return judged.length > 0 && right
    })
    return [atLeast(came)]
  },
}

export const STUDY_SELECTION: readonly StudyCheck[] = [...rinott, ...feasible, whole]
