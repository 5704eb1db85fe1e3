import type { Rows } from '../measure/rows.ts'
import { windowFigures } from '../measure/window.ts'
import type { Estimate } from '../stats/estimate.ts'
import { estimateOf } from './assemble.ts'
import { resolutionOf } from './designs/window.ts'
import { cutWarmUp } from './warm-up.ts'

/** Good cells an hour after the warm-up, by the scatter between replications alone. */
export function scatterOfGood(rows: readonly Rows[], level: number): Estimate {
  return estimated(rows, level, 0)
}

/** The same, no surer than the edges of the window let it be. */
export function goodOutput(rows: readonly Rows[], level: number): Estimate {
  return estimated(rows, level, edgesOfGood(rows))
}

/** By how much the edges of the window can be off, however many replications there are [cells/h]. */
export function edgesOfGood(rows: readonly Rows[]): number {
  return resolutionOf(cutWarmUp(rows).blocks, [rows])
}

function estimated(rows: readonly Rows[], level: number, finest: number): Estimate {
  const cut = cutWarmUp(rows).blocks
  return estimateOf(
    rows.map(row => windowFigures(row, cut).goodPerHour),
    level,
    finest,
  )
}
