/** Where a warm-up ends. */
export interface WarmUpCut {
  /** Batches cut off the start, and the observations in them. */
  readonly batches: number
  readonly observations: number
  /** The marginal standard error rule's statistic at the cut; not a number without a batch. */
  readonly statistic: number
  /** False when the series is too short to tell: the statistic is least at the half-way bound. */
  readonly settled: boolean
}

const BATCH = 5

/**
 * MSER-5: cuts the start of a series so that the mean of the rest is as sure as
 * it can be. Over the n means of successive batches of five, the number d cut is
 * the one that makes
 * (y_(d+1) - m)^2 + ... + (y_n - m)^2, divided by (n - d)^2, least,
 * m being the mean of y_(d+1) ... y_n, for d up to n / 2; of equal minima the
 * first. Up to four observations left over at the end are not used.
 * Sources: White (1997), Simulation 69, 323-334; Spratt (1998), thesis,
 * University of Virginia.
 */
export function mser5(series: readonly number[]): WarmUpCut {
  const count = Math.floor(series.length / BATCH)
  const means: number[] = []
  for (let batch = 0; batch < count; batch++) {
    let sum = 0
    for (let i = 0; i < BATCH; i++) sum += series[batch * BATCH + i]
    means.push(sum / BATCH)
  }
  const { cut, statistic } = mser(means)
  return { batches: cut, observations: cut * BATCH, statistic, settled: cut < Math.floor(count / 2) }
}

/** The rule itself, on values as they are: how many to cut and the statistic there. */
export function mser(values: readonly number[]): { cut: number; statistic: number } {
  const count = values.length
  const bound = Math.floor(count / 2)
  // Measured from the last value, so that equal values have no spread at all, not one of rounding.
  const origin = values[count - 1]
  let cut = 0
  let statistic = NaN
  let centre = 0
  let squares = 0
  // From the end to the start, one value more each time (Welford 1962).
  for (let d = count - 1; d >= 0; d--) {
    const kept = count - d
    const distance = values[d] - origin - centre
    centre += distance / kept
    squares += distance * (values[d] - origin - centre)
    const here = squares / (kept * kept)
    if (d <= bound && !(here > statistic)) {
      cut = d
      statistic = here
    }
  }
  return { cut, statistic }
}
