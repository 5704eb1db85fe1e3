import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import type { Carriers } from './types.ts'

/** What cannot be in carriers whose values are each of the right form. */
export function checkCarriers({ number, fullAtMost, moved }: Carriers, path: Path): Problem[] {
  const { by, perTrip, returns, priority } = moved
  const problems: Problem[] = []
  if (fullAtMost !== undefined && fullAtMost > number)
    problems.push(problemAt([...path, 'fullAtMost'], String(fullAtMost), `at most all carriers, ${number}`))
  if (perTrip !== undefined && perTrip > number)
    problems.push(
      problemAt([...path, 'moved', 'perTrip'], String(perTrip), `at most all carriers, ${number}`),
    )
  if (by !== undefined) return problems
  for (const [key, value] of Object.entries({ perTrip, returns, priority }))
    if (value !== undefined)
      problems.push(
        problemAt(
          [...path, 'moved', key],
          typeof value === 'string' ? quoted(value) : String(value),
          'none without "by"',
          'nobody goes along: each carrier moves by itself',
        ),
      )
  return problems
}
