import { nearest } from '../../sim/base/nearest.ts'
import { type Problem, problemLines } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line, RunDefaults } from '../../sim/line/types.ts'
import { applyVariant, describeVariant } from '../../sim/line/vary.ts'
import { warningsOf } from '../../sim/line/warnings.ts'
import { lineHash } from '../jobs/identity.ts'
import { failed, wrongUsage } from './failure.ts'
import { loadScenario } from './load.ts'
import { shownPath } from './source-position.ts'
import type { Surroundings } from './surroundings.ts'

/** A scenario file as it was read: the line is missing when there are problems. */
export interface Scenario {
  readonly line?: Line
  readonly problems: readonly Problem[]
  readonly warnings: readonly Problem[]
  /** What the bundler found odd, as `file:line:col: text`. */
  readonly notes: readonly string[]
}

/**
 * Loads and validates a scenario file; while `merge` repeats a command, the scenario that
 * the journals keep. Throws a `Failure` when it cannot be loaded at all.
 */
export async function readScenario(
  file: string,
  { merging }: Pick<Surroundings, 'merging'> = {},
): Promise<Scenario> {
  if (merging !== undefined) return { ...checkLine(merging.beside?.[file] ?? merging.scenario), notes: [] }
  const { value, warnings: notes } = await loadScenario(file)
  return { ...checkLine(value), notes }
}

/** The line of a scenario without problems; throws a `Failure` that lists all of them otherwise. */
export function lineOf(scenario: Scenario, file: string): Line {
  const { line, problems } = scenario
  if (line !== undefined && problems.length === 0) return line
  throw failed(problemsText(problems, file))
}

/** A line to be simulated, and what makes it differ from the scenario's own. */
export interface ChosenLine {
  readonly line: Line
  /** The line of the file, all its variants inside. */
  readonly scenario: Line
  readonly variant?: string
  /** In words, one change each. */
  readonly changes?: readonly string[]
}

/** The line with one of its variants applied; the line itself when none is named. */
export function chosenLine(line: Line, variant: string | undefined): ChosenLine {
  if (variant === undefined) return { line, scenario: line }
  const names = Object.keys(line.variants ?? {})
  if (names.includes(variant)) {
    const changes = describeVariant(line, variant)
    return { line: applyVariant(line, variant), scenario: line, variant, changes }
  }
  if (names.length === 0) throw wrongUsage(`--variant: found "${variant}"; this scenario has no variants`)
  const near = nearest(variant, names)
  const hint = near === undefined ? '' : `; did you mean "${near}"?`
  throw wrongUsage(`--variant: found "${variant}"; allowed is "${names.join('", "')}"${hint}`)
}

/** Short hash of a line: equal for equal data, however it was written. What its variants are is no part of it. */
export function fingerprint({ variants: _, ...line }: Line): string {
  return lineHash(line).slice(0, 12)
}

/** Warnings, one a line; many that are alike on one. */
export function warningsText(scenario: Scenario): string {
  const all = [...scenario.notes, ...problemLines(scenario.warnings)]
  return all.map(text => `warning: ${text}\n`).join('')
}

/** The scenario with the warnings of a line that is simulated so long and so often. */
export function warnedOfRuns(
  scenario: Scenario,
  line: Line,
  { days, replications }: Required<Pick<RunDefaults, 'days' | 'replications'>>,
): Scenario {
  return { ...scenario, warnings: warningsOf({ ...line, run: { ...line.run, days, replications } }) }
}

/** Warnings a run shows: it has more to say than they have. */
const SHOWN = 4

/**
 * The first warnings of what is run, without those of its variants, and where the others are.
 *
 * @param named each with the name of the file, where there are several
 */
export function firstWarningsText(scenario: Scenario, file: string, named = false): string {
  const own = scenario.warnings.filter(({ path }) => !path.startsWith('variants '))
  const of = named ? `${shownPath(file)}: ` : ''
  const all = [...scenario.notes, ...problemLines(own)].map(text => `warning: ${of}${text}\n`)
  if (all.length <= SHOWN + 1) return all.join('')
  const rest = `warning: and ${all.length - SHOWN} more; linewright check ${shownPath(file)} shows them\n`
  return [...all.slice(0, SHOWN), rest].join('')
}

/** All problems below a head, one a line; many that are alike on one. */
export function problemsText(problems: readonly Problem[], file: string): string {
  const count = problems.length === 1 ? '1 problem' : `${problems.length} problems`
  const list = problemLines(problems).map(text => `  ${text}`)
  return [`${shownPath(file)}: ${count}`, ...list].join('\n')
}
