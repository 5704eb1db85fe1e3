import { bonferroniLevel } from '../../stats/bonferroni.ts'
import type { Estimate } from '../../stats/estimate.ts'
import { pairedDifference } from '../../stats/paired.ts'
import type { Ledger } from './ledger.ts'
import type { Judged } from './select.ts'

/** The chosen design with one tool (or lane) less of one kind. */
export interface LeftOut {
  readonly name: string
  readonly gainPerHour: Estimate
}

/** Replications of a design with one less of a kind: the first ones of the chosen design's, to be paired with. */
const LEFT_OUT = 4

/** One tool, lane or head less, or the next smaller buffer, of each kind that has more than its least. */
export async function leaveOut(
  ledger: Ledger,
  { choice, values }: Judged,
  level: number,
): Promise<LeftOut[]> {
  const less = ledger.variables.flatMap(({ name, values: all }, v) => {
    if (choice[v] === 0) return []
    const fewer = choice.map((index, other) => (other === v ? index - 1 : index))
    const value = all[fewer[v]]
    return [{ name: `${name} ${value}`, fewer }]
  })
  const own = bonferroniLevel(level, Math.max(1, less.length))
  const results: LeftOut[] = []
  for (const { name, fewer } of less) {
    const without = await ledger.values(fewer, LEFT_OUT)
    results.push({
      name,
      gainPerHour: pairedDifference(
        without.slice(0, LEFT_OUT),
        values.slice(0, LEFT_OUT),
        own,
        ledger.resolution(fewer, choice, LEFT_OUT),
      ),
    })
  }
  return results
}
