import { expect, it } from 'vitest'
import type { StudyCheck, StudyLength } from './check.ts'
import { runStudyCheck } from './run-study-check.ts'
import { STUDY_CHECKS } from './study-checks.ts'

/**
 * The checks of studies with short runs: the same lines, expected values and rule, but a
 * figure need only be known a quarter as well. `npm run verify` runs them at full length.
 */
const WIDER = 4
const REPLICATIONS = 12

/** Part of the full run, of its repeats where there are any. */
const PART = 0.1
/** Enough repeats for a share where a tenth would be too few, of runs short enough for them. */
const OTHERWISE: Readonly<Record<string, Partial<StudyLength>>> = {
  'D-10': { repeats: 60 },
  'T-26': { days: 5, repeats: 40 },
}

function shortened(check: StudyCheck): StudyCheck {
  return {
    ...check,
    run: { ...shorter(check.run), ...OTHERWISE[check.id] },
    async find(run) {
      const figures = await check.find(run)
      return figures.map(figure => ({ ...figure, within: figure.within * WIDER }))
    },
  }
}

function shorter({ days, replications, repeats }: StudyLength): StudyLength {
  if (repeats !== undefined) return { days, replications, repeats: Math.round(repeats * PART) }
  const fewer = Math.min(REPLICATIONS, replications)
  return { days: (days * PART * replications) / fewer, replications: fewer }
}

it.each(STUDY_CHECKS.map(check => [check.id, check] as const))('%s', async (_, check) => {
  const verdicts = await runStudyCheck(shortened(check), () => performance.now() / 1000)
  expect(verdicts.filter(({ pass }) => !pass)).toEqual([])
  expect(verdicts.length).toBeGreaterThan(0)
})
