import { checkLine } from '../../sim/line/check.ts'
import type { StudyHooks } from '../../sim/study/options.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { type Check, seedsOf } from './check.ts'
import { judgeEstimate, LEVEL, tried, type Verdict } from './verdict.ts'

/** Runs a check, a second time with its second seed when it misses. `clock` gives seconds. */
export function runCheck(check: Check, clock: () => number, hooks: StudyHooks = {}): Promise<Verdict[]> {
  return tried(seedsOf(check), async seed => judge(check, await study(check, seed, hooks), seed), clock)
}

/** The study of a check, by way of the checked scenario. */
async function study(check: Check, seed: string, hooks: StudyHooks): Promise<RunStudy> {
  const { line, problems } = checkLine(check.line)
  if (!line)
    throw new Error(`${check.id}: ${problems.map(({ path, expected }) => `${path}: ${expected}`).join('; ')}`)
  const { days, replications } = check.run
  const options = {
    days,
    replications,
    seed,
    drive: 'eager',
    cap: replications,
    level: LEVEL,
    version: 'verify',
  } as const
  return runStudy(line, options, hooks)
}

function judge(check: Check, found: RunStudy, seed: string): Verdict[] {
  const { id, family, what, source, run } = check
  return check.figures.map(({ name, expected, within, read }) => ({
    ...{ id, family, kind: 'simulated', what, source, figure: name },
    ...judgeEstimate(read(found), { expected, within, level: LEVEL }, found.audit.faults[0]),
    ...{ days: run.days, replications: run.replications, seed, secondTry: false, seconds: 0 },
  }))
}
