import type { Stream } from './streams.ts'

/**
 * Triangular law by its least value a, most likely value c and largest value b.
 * Mean (a + b + c) / 3.
 * Source: Kotz & van Dorp, Beyond Beta (2004), chapter 1.
 */
export function triangularMean(least: number, mode: number, most: number): number {
  return (least + mode + most) / 3
}

/** (a^2 + b^2 + c^2 - ab - ac - bc) / 18, written with differences so that nothing cancels. */
export function triangularVariance(least: number, mode: number, most: number): number {
  const rise = mode - least
  const fall = most - mode
  return (rise * rise + rise * fall + fall * fall) / 18
}

/** x with P(X <= x) = p: a + sqrt(p (b - a)(c - a)) up to the mode, b - sqrt((1 - p)(b - a)(b - c)) above. */
export function triangularQuantile(least: number, mode: number, most: number, p: number): number {
  const width = most - least
  if (p * width <= mode - least) return least + Math.sqrt(p * width * (mode - least))
  return most - Math.sqrt((1 - p) * width * (most - mode))
}

export function triangularSampler(least: number, mode: number, most: number, stream: Stream): () => number {
  const width = most - least
  const rise = mode - least
  const risen = width * rise
  const falling = width * (most - mode)
  return () => {
    const u = stream()
    return u * width <= rise ? least + Math.sqrt(u * risen) : most - Math.sqrt((1 - u) * falling)
  }
}
