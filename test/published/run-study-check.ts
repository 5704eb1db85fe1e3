import type { StudyHooks } from '../../sim/study/options.ts'
import { type StudyCheck, seedsOf } from './check.ts'
import { judgeEstimate, LEVEL, tried, type Verdict } from './verdict.ts'

/** Runs a check of a study, a second time with its second seed when it misses. `clock` gives seconds. */
export function runStudyCheck(
  check: StudyCheck,
  clock: () => number,
  hooks: StudyHooks = {},
): Promise<Verdict[]> {
  return tried(seedsOf(check), seed => judge(check, seed, hooks), clock)
}

async function judge(check: StudyCheck, seed: string, hooks: StudyHooks): Promise<Verdict[]> {
  const { id, family, what, source, run } = check
  const figures = await check.find({ repeats: 1, ...run, seed, hooks })
  return figures.map(({ name, estimate, level = LEVEL, ...asked }) => ({
    ...{ id, family, kind: 'study', what, source, figure: name },
    ...judgeEstimate(estimate, { ...asked, level }),
    ...(run.days > 0 && { days: run.days, replications: run.replications }),
    ...(run.repeats !== undefined && { repeats: run.repeats }),
    ...{ seed, secondTry: false, seconds: 0 },
  }))
}
