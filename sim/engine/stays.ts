/**
 * Classes of stay in the line: 128 per doubling, so that a percentile read off them is
 * right to about 0.3 % (half a class, and it is interpolated within the class).
 * Class 0 holds stays below one second.
 */
const PER_DOUBLING = 128
const DOUBLINGS = 30
const FIRST = 1e6
export const STAY_BINS = PER_DOUBLING * DOUBLINGS + 1

/** @param stay [ticks] */
export function stayBin(stay: number): number {
  if (stay < FIRST) return 0
  const bin = 1 + Math.floor(Math.log2(stay / FIRST) * PER_DOUBLING)
  return bin < STAY_BINS ? bin : STAY_BINS - 1
}

/** Lower edge of a class [ticks]; the upper edge is the lower edge of the next. */
export function stayEdge(bin: number): number {
  return bin === 0 ? 0 : FIRST * 2 ** ((bin - 1) / PER_DOUBLING)
}
