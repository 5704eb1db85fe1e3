import { type Estimate, estimate } from './estimate.ts'

/**
 * Means of `batches` successive, equally long stretches of a series. What does
 * not fill the last batch is left out at the end.
 *
 * Throws RangeError when there are fewer observations than batches.
 */
export function batchMeans(series: readonly number[], batches: number): number[] {
  const size = Math.floor(series.length / batches)
  if (size < 1) throw new RangeError(`${series.length} observations do not fill ${batches} batches`)
  return Array.from({ length: batches }, (_, batch) => {
    let sum = 0
    for (let i = batch * size; i < (batch + 1) * size; i++) sum += series[i]
    return sum / size
  })
}

/**
 * Mean of one long run with the Student-t interval of its batch means, which
 * are nearly independent when a batch is long against the memory of the series.
 * `n` counts the batches. Check `lag1Autocorrelation` of the batch means: well
 * above 0 it says that the batches are too short and the interval too narrow.
 * Source: Law, Simulation Modeling and Analysis, section on batch means; Schmeiser
 * (1982), Operations Research 30, 556-568, advises 10 to 30 batches.
 */
export function batchMeansEstimate(series: readonly number[], batches: number, level: number): Estimate {
  return estimate(batchMeans(series, batches), level)
}
