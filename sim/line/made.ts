import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { quantity, signedQuantity } from '../base/quantity.ts'
import type { Step, WaferKind } from './types.ts'

/**
 * The efficiencies of the wafers at a place of the line, on paper, on the way of a wafer that
 * is never sent back: kinds of wafers, each normal, as lanes and wear make them. What wafers
 * lose by waiting (held up, late) is left out, and so is that an earlier test has taken the
 * worst away. Efficiencies as fractions. Empty where the line has no wafer.
 */
export type Made = readonly Kind[]

interface Kind {
  readonly share: number
  readonly mean: number
  readonly variance: number
}

/** Wear grows evenly from nothing to its end: it is taken in so many parts, each normal. */
const PARTS = 8
/** Kinds at most; then the two that are next to each other are taken as one. */
const MOST = 32

/** As the process gives them: own efficiency and shift of the ingot lot. */
export function madeBy(wafer: WaferKind | undefined): Made {
  if (!wafer) return []
  const { mean, sd = '0 %', lot } = wafer.efficiency
  const variance = quantity('share', sd) ** 2 + quantity('share', lot?.sd ?? '0 %') ** 2
  return [{ share: 1, mean: quantity('share', mean), variance }]
}

/** Behind a step: with its effect, and less what its wear takes. */
export function treated(made: Made, { effect, drift }: Step): Made {
  if (made.length === 0) return made
  const shift = signedQuantity('share', effect?.shift ?? '0 %')
  const variance = quantity('share', effect?.sd ?? '0 %') ** 2
  const changed = made.map(kind => ({
    ...kind,
    mean: kind.mean + shift,
    variance: kind.variance + variance,
  }))
  const loses = quantity('share', drift?.loses ?? '0 %') / PARTS
  if (loses === 0) return changed
  return few(
    changed.flatMap(({ share, mean, variance: own }) =>
      Array.from({ length: PARTS }, (_, part) => ({
        share: share / PARTS,
        mean: mean - (part + 0.5) * loses,
        variance: own + loses ** 2 / 12,
      })),
    ),
  )
}

/** Where lanes join, by the share of the wafers that each brings. */
export function joined(lanes: readonly { readonly made: Made; readonly weight: number }[]): Made {
  return few(lanes.flatMap(({ made, weight }) => made.map(kind => ({ ...kind, share: kind.share * weight }))))
}

/** Share of wafers measured below a limit; own efficiency and noise of the tool add up as variances. */
export function shareBelow(limit: number, made: Made, noise: number): number {
  return made.reduce((sum, { share, mean, variance }) => {
    const spread = Math.hypot(Math.sqrt(variance), noise)
    // Without any spread a wafer at the limit passes, however its efficiency was added up.
    const below = spread === 0 ? Number(mean < limit - 1e-12) : normalCdf(limit, mean, spread)
    return sum + share * below
  }, 0)
}

/** Mean efficiency, fraction. */
export function meanMade(made: Made): number {
  return made.reduce((sum, { share, mean }) => sum + share * mean, 0)
}

/** Kinds that are alike are one; of too many, two each that are next to each other. */
function few(kinds: readonly Kind[]): Made {
  const sorted = kinds
    .filter(({ share }) => share > 0)
    .sort((a, b) => a.mean - b.mean || a.variance - b.variance)
  let merged: Kind[] = []
  for (const kind of sorted) {
    const last = merged.at(-1)
    if (last?.mean === kind.mean && last.variance === kind.variance) merged.splice(-1, 1, both(last, kind))
    else merged.push(kind)
  }
  while (merged.length > MOST)
    merged = merged.flatMap((kind, i) => {
      if (i % 2 === 1) return []
      return i + 1 < merged.length ? [both(kind, merged[i + 1])] : [kind]
    })
  return merged
}

function both(a: Kind, b: Kind): Kind {
  const share = a.share + b.share
  const [p, q] = [a.share / share, b.share / share]
  return {
    share,
    mean: p * a.mean + q * b.mean,
    variance: p * a.variance + q * b.variance + p * q * (a.mean - b.mean) ** 2,
  }
}
