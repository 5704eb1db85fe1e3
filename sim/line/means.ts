import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { mean, toLaw } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'

/** Mean of a time that may scatter [s]. */
export function meanTime(spread: Spread<Time>): number {
  return mean(toLaw(spread, text => quantity('time', text), 1))
}

/** Mean of a number that may scatter. */
export function meanCount(spread: Spread<number>): number {
  return mean(toLaw(spread, number => number, 1))
}
