import type { StudyHooks } from '../../sim/study/options.ts'
import { CHECKS } from './all-checks.ts'
import type { Family } from './check.ts'
import { EXACT_NUMBERS } from './exact-numbers.ts'
import { runCheck } from './run-check.ts'
import { runNumbers, runPath } from './run-exact.ts'
import { runStudyCheck } from './run-study-check.ts'
import { SAMPLE_PATHS } from './sample-paths.ts'
import { STUDY_CHECKS } from './study-checks.ts'
import type { Verdict } from './verdict.ts'

/** A check of any kind, ready to run. */
export interface Entry {
  readonly id: string
  readonly family: Family
  run(clock: () => number, hooks: StudyHooks): Promise<Verdict[]>
}

/** All checks, the quick ones first. */
export const ENTRIES: readonly Entry[] = [
  ...EXACT_NUMBERS.map(check => entry(check, async clock => runNumbers(check, clock))),
  ...SAMPLE_PATHS.map(check => entry(check, async clock => runPath(check, clock))),
  ...STUDY_CHECKS.map(check => entry(check, (clock, hooks) => runStudyCheck(check, clock, hooks))),
  ...CHECKS.map(check => entry(check, (clock, hooks) => runCheck(check, clock, hooks))),
]

function entry({ id, family }: Pick<Entry, 'id' | 'family'>, run: Entry['run']): Entry {
  return { id, family, run }
}

/**
 * The entries that one of the words names: by family ("queueing"), or by the start of an
 * id up to the end of a number ("S-1" is not the start of "S-10").
 *
 * @throws RangeError when a word names none
 */
export function chosen(entries: readonly Entry[], words: readonly string[]): readonly Entry[] {
  if (words.length === 0) return entries
  for (const word of words)
    if (!entries.some(candidate => names(word, candidate)))
      throw new RangeError(`no check is called "${word}"`)
  return entries.filter(candidate => words.some(word => names(word, candidate)))
}

function names(word: string, { id, family }: Entry): boolean {
  const wanted = word.toLowerCase()
  if (family === wanted) return true
  const rest = id.toLowerCase().startsWith(wanted) ? id.slice(wanted.length) : undefined
  return rest !== undefined && !/^\d/.test(rest)
}
