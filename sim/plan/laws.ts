import { quantity } from '../base/quantity.ts'
import type { Share, Time } from '../base/units.ts'
import { type Law, toLaw } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'
import { TICKS_PER_SECOND } from './plan.ts'

/** A time in whole ticks. */
export function ticks(time: Time): number {
  return Math.round(quantity('time', time) * TICKS_PER_SECOND)
}

/** A spread of times as a law in ticks. A geometric law without a step goes in seconds. */
export function timeLaw(spread: Spread<Time>): Law {
  return toLaw(spread, time => quantity('time', time) * TICKS_PER_SECOND, TICKS_PER_SECOND)
}

/** A spread of counts as a law in pieces. */
export function countLaw(spread: Spread<number>): Law {
  return toLaw(spread, count => count, 1)
}

export function share(text: Share | undefined): number {
  return text === undefined ? 0 : quantity('share', text)
}
