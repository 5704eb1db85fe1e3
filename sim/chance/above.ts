import { gammaTails } from './gamma-tails.ts'
import { type Law, quantile } from './law.ts'

/** Share of what is drawn that is longer than a limit: by halving, but for the laws where that takes long. */
export function shareAbove(law: Law, limit: number): number {
  if (law.kind === 'fixed') return law.value > limit ? 1 : 0
  if (limit <= 0) return 1
  if (law.kind === 'gamma') {
    const [shape, scale] = [1 / law.cv ** 2, law.mean * law.cv ** 2]
    // With hardly any scatter nothing is far from the mean.
    if (shape > 1e7) return law.mean > limit ? 1 : 0
    return Math.exp(gammaTails(shape).above(Math.log(limit / scale)))
  }
  let [least, most] = [0, 1]
  for (let round = 0; round < 40; round++) {
    const middle = (least + most) / 2
    if (quantile(law, middle) > limit) most = middle
    else least = middle
  }
  return 1 - (least + most) / 2
}
