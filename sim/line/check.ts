import { isPlainObject, plainCopy } from '../base/plain.ts'
import { foundText, pathText, type Problem, problemAt } from '../base/problems.ts'
import { checkFlow } from './check-flow.ts'
import { checkParts } from './check-line.ts'
import { checkVariants } from './check-variants.ts'
import { problemsOf } from './issues.ts'
import { outlineRoute } from './outline.ts'
import { lineSchema } from './schema.ts'
import type { Line } from './types.ts'
import { applyVariant } from './vary.ts'
import { warningsOf } from './warnings.ts'

/** A line that has been validated, or all that is wrong with it. */
export interface CheckedLine {
  /** A copy of the line as plain data; present when there are no problems. */
  readonly line?: Line
  readonly problems: readonly Problem[]
  /** Probable mistakes that a line may have. Looked for only when there are no problems. */
  readonly warnings: readonly Problem[]
}

const WHOLE = ['the scenario']

/**
 * Validates what a person wrote as a line: its form, its values, what stands between
 * its items, and each of its variants. Reports all problems at once. Never throws.
 */
export function checkLine(value: unknown): CheckedLine {
  const plain = plainCopy(value)
  if ('fault' in plain) return rejected([problemAt(WHOLE, 'data without an end', 'plain data', plain.fault)])
  const { copy } = plain
  if (!isPlainObject(copy)) return rejected([problemAt(WHOLE, foundText(copy), 'an object with the keys line and route')])
  const problems = problemsOf(lineSchema, copy, [])
  const route = copy.route === undefined ? [] : outlineRoute(copy.route, ['route'], problems)
  problems.push(...checkFlow(route), ...checkParts(copy, route), ...checkVariants(copy.variants, route))
  if (problems.length > 0) return rejected(problems)
  const line = copy as unknown as Line
  return checkEachVariant(line, warningsOf(line))
}

/** Applies each variant and checks the line that results. */
function checkEachVariant(line: Line, warnings: readonly Problem[]): CheckedLine {
  const problems: Problem[] = []
  const more: Problem[] = []
  const known = new Set(warnings.map(kindOf))
  for (const name of Object.keys(line.variants ?? {})) {
    const prefix = (problem: Problem): Problem => ({ ...problem, path: `${pathText(['variants', { name }])} → ${problem.path}` })
    const checked = checkLine(applyVariant(line, name))
    problems.push(...checked.problems.map(prefix))
    more.push(...checked.warnings.filter(warning => !known.has(kindOf(warning))).map(prefix))
  }
  return problems.length > 0 ? rejected(problems) : { line, problems: [], warnings: [...warnings, ...more] }
}

/** A warning of the line itself is not said again for each variant, though its figures may differ. */
function kindOf({ path, hint = '' }: Problem): string {
  return `${path} ${hint.replace(/[\d.]+/g, '')}`
}

function rejected(problems: readonly Problem[]): CheckedLine {
  return { problems, warnings: [] }
}
