import { formatNumber, formatQuantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { meanCount, meanTime } from './means.ts'

/** Values that are told one by one; of more the mean is told. */
const FEW = 5

/** Mean and number of what was observed, as in a log of stops; undefined when so few values can be told. */
export function observedMean(value: unknown): { readonly mean: string; readonly count: number } | undefined {
  if (!Array.isArray(value) || value.length <= FEW) return undefined
  const mean = value.every(one => typeof one === 'number')
    ? formatNumber(meanCount({ observed: value }))
    : formatQuantity('time', meanTime({ observed: value as readonly Time[] }))
  return { mean, count: value.length }
}
