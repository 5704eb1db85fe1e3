import { problemText } from '../../sim/base/problems.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line } from '../../sim/line/types.ts'

/** Small lines for tests, each right but for what is given. */

/** One printer, and what is given. */
export const lineWith = (changes: object) => ({
  line: 'test line',
  route: [{ step: 'print', cycle: '2 s' }],
  ...changes,
})

/** A route of these items. */
export const routeOf = (...route: unknown[]) => lineWith({ route })

/** A line of one step with what is given. */
export const stepWith = (fields: object) => routeOf({ step: 'print', ...fields })

/** A line of one single-wafer tool with what is given. */
export const singleWith = (fields: object) => stepWith({ cycle: '2 s', ...fields })

/** A line of one single-wafer tool with one stop. */
export const stopWith = (fields: object) =>
  singleWith({ stops: [{ stop: 'jam', every: '2 h', lasts: '5 min', ...fields }] })

/** What stands between two single-wafer tools. */
export const between = (...items: unknown[]) =>
  routeOf({ step: 'texture', cycle: '2 s' }, ...items, { step: 'print', cycle: '2 s' })

/** A wafer, for lines that measure it. */
export const wafer = { area: '330 cm2', efficiency: { mean: '23 %', sd: '0.2 %' } }

/** All problems as text. */
export function problemsIn(value: unknown): string[] {
  return checkLine(value).problems.map(problemText)
}

/** All warnings of a line that must have no problems. */
export function warningsIn(value: unknown): string[] {
  const { problems, warnings } = checkLine(value)
  if (problems.length > 0) throw new Error(problems.map(problemText).join('\n'))
  return warnings.map(problemText)
}

/** The validated line; throws when it has problems. */
export function valid(value: unknown): Line {
  const { line, problems } = checkLine(value)
  if (!line) throw new Error(problems.map(problemText).join('\n'))
  return line
}
