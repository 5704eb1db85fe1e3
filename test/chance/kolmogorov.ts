/**
 * Kolmogorov-Smirnov: greatest distance of a sample from a fully specified distribution.
 *
 * Critical value at 1 %: 1.62762 for D (sqrt(n) + 0.12 + 0.11 / sqrt(n)). Sources: the
 * asymptotic 1 % point of the Kolmogorov-Smirnov table (Massey 1951, Journal of
 * the American Statistical Association 46), the factor from Stephens (1974), same
 * journal 69, table 1A (both from memory).
 */
export const CRITICAL = 1.62762

export function kolmogorov(values: readonly number[], below: (x: number) => number): number {
  const n = values.length
  const sorted = Float64Array.from(values).sort()
  let distance = 0
  for (let i = 0; i < n; i++) {
    const p = below(sorted[i])
    distance = Math.max(distance, p - i / n, (i + 1) / n - p)
  }
  return distance * (Math.sqrt(n) + 0.12 + 0.11 / Math.sqrt(n))
}
