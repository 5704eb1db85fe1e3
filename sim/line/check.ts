import { isPlainObject, plainCopy } from '../base/plain.ts'
import { foundText, type Problem, pathText, problemAt } from '../base/problems.ts'
import { checkCalendar } from './check-calendar.ts'
import { checkFlow } from './check-flow.ts'
import { checkParts } from './check-line.ts'
import { checkMoney } from './check-money.ts'
import { checkNamed } from './check-names.ts'
import { checkPeople } from './check-people.ts'
import { checkReserved } from './check-reserved.ts'
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
  if (!isPlainObject(copy))
    return rejected([problemAt(WHOLE, foundText(copy), 'an object with the keys line and route')])
  const problems = problemsOf(lineSchema, copy, [])
  const route = copy.route === undefined ? [] : outlineRoute(copy.route, ['route'], problems)
  problems.push(
    ...checkFlow(route),
    ...checkParts(copy, route),
    ...checkCalendar(copy, route),
    ...checkPeople(copy, route),
    ...checkNamed(copy, route),
    ...checkReserved(copy, route),
    ...checkMoney(copy, route),
    ...checkVariants(copy, route),
  )
  if (problems.length > 0) return rejected(problems)
  return withVariants(copy as unknown as Line)
}

/** Checks the line that each variant makes. What is said of the line itself is not said again. */
function withVariants(line: Line): CheckedLine {
  const made = Object.keys(line.variants ?? {}).map(name => checkVariant(line, name))
  const problems = made.flatMap(variant => variant.problems)
  if (problems.length > 0) return rejected(problems)
  const own = warningsOf(line)
  const known = new Set(own.map(kindOf))
  const others = made.flatMap(variant =>
    variant.warnings.filter((_, index) => !known.has(variant.kinds[index])),
  )
  return { line, problems, warnings: [...own, ...others] }
}

interface CheckedVariant {
  readonly problems: readonly Problem[]
  readonly warnings: readonly Problem[]
  /** Of each warning. */
  readonly kinds: readonly string[]
}

function checkVariant(line: Line, name: string): CheckedVariant {
  const { problems, warnings } = checkLine(applyVariant(line, name))
  const prefix = (problem: Problem): Problem => ({
    ...problem,
    path: `${pathText(['variants', { name }])} → ${problem.path}`,
  })
  return { problems: problems.map(prefix), warnings: warnings.map(prefix), kinds: warnings.map(kindOf) }
}

/** Where and why, without the figures, which differ from variant to variant. */
function kindOf({ path, hint = '' }: Problem): string {
  return `${path} ${hint.replace(/[\d.]+/g, '')}`
}

function rejected(problems: readonly Problem[]): CheckedLine {
  return { problems, warnings: [] }
}
