import { describe, expect, it } from 'vitest'
import { checkLine } from '../../sim/line/check.ts'
import { CHECKS } from './all-checks.ts'
import type { Check } from './check.ts'
import { runCheck } from './run-check.ts'
import { SAMPLE_PATHS } from './sample-paths.ts'
import { STUDY_CHECKS } from './study-checks.ts'

/**
 * A part of the published checks with short runs: the same lines and expected values, the
 * same rule (99.9 % interval, one second try), but a figure need only be known to 3 % at
 * 95 %, or to 10 % where it was a share of time or the spread of runs. `npm run verify`
 * runs all of them at full length.
 */
const WITHIN = 0.03
const WITHIN_SHARE = 0.1
const REPLICATIONS = 12

/** Id, and the part of the full run. */
const SHORT: readonly (readonly [string, number])[] = [
  ['Q-01', 0.12],
  ['Q-03', 0.15],
  ['Q-11', 0.05],
  ['Q-14a', 0.08],
  ['Q-15', 0.05],
  ['Q-16a', 0.05],
  ['Q-19', 0.03],
  ['Q-28', 0.1],
  ['S-06b', 0.12],
  ['S-12b forwards', 0.1],
  ['S-14h', 0.1],
  ['S-16c', 0.1],
  ['U-03j', 0.15],
  ['U-04a', 0.15],
  ['U-06b', 0.12],
  ['U-08d', 0.15],
  ['B-03', 1],
  ['C-02', 0.1],
  ['Q-30a', 0.1],
  ['Q-31m', 0.3],
  ['Q-33', 0.03],
  ['Q-34', 0.1],
  ['Q-36', 0.2],
  ['U-07a', 0.1],
  ['B-12', 0.1],
  ['B-07', 1],
  ['B-11a', 1],
  ['Q-29', 0.2],
  ['S-09b', 0.1],
  ['B-13c', 0.1],
  ['B-14b', 0.1],
  ['U-11a', 0.3],
  ['U-12b', 0.3],
]

function shortened(check: Check, part: number): Check {
  const figures = check.figures.map(figure => ({
    ...figure,
    within: figure.within > 0.01 || figure.name.includes('bin') ? WITHIN_SHARE : WITHIN,
  }))
  // Fewer replications of the same length in all: each costs some milliseconds of its own.
  const fewer = Math.min(REPLICATIONS, check.run.replications)
  const days = (check.run.days * part * check.run.replications) / fewer
  return { ...check, run: { days, replications: fewer }, figures }
}

describe('published checks, short runs', () => {
  it.each(SHORT)('%s', async (id, part) => {
    const check = CHECKS.find(candidate => candidate.id === id)
    if (!check) throw new Error(`no check ${id}`)
    const verdicts = await runCheck(shortened(check, part), () => performance.now() / 1000)
    const wrong = verdicts.filter(({ pass }) => !pass)
    expect(wrong).toEqual([])
    expect(verdicts).toHaveLength(check.figures.length)
  })
})

describe('the lines of all checks', () => {
  it.each([...CHECKS, ...SAMPLE_PATHS].map(check => [check.id, check.line] as const))(
    '%s is a valid scenario',
    (_, line) => expect(checkLine(line).problems).toEqual([]),
  )

  it('have ids of their own, and enough replications', () => {
    const ids = [...CHECKS, ...SAMPLE_PATHS, ...STUDY_CHECKS].map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    for (const { run, figures } of CHECKS) {
      expect(run.replications).toBeGreaterThanOrEqual(10)
      expect(figures.length).toBeGreaterThan(0)
    }
  })
})
