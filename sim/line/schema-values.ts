import { measured, quantityGauge, signedGauge } from './schema-parts.ts'
import { LONGEST, TICK } from './schema-spread.ts'

/** Plain values that several parts of the language have. */

const TIME = quantityGauge('time')

/** Any share, zero and all included. */
export const share = measured(quantityGauge('share'), { least: 0, most: 1 })
/** A change of efficiency: below zero a loss. */
export const change = measured(signedGauge('share'), { least: -1, most: 1 })
/** A time that may be nothing. */
export const anyTime = measured(TIME, { least: 0, most: LONGEST })
/** A time of one tick at least. */
export const someTime = measured(TIME, { least: TICK, most: LONGEST })
/** Wafers in one load, on one buffer: more than any real one, few enough to count. */
export const MOST_WAFERS = 10_000_000
/** More tools than any step has; each costs memory in every run. */
export const MOST_TOOLS = 200
/** More people, vehicles or boats of a tool than any line has. */
export const MOST_HELPERS = 1000
/** More carriers than any line has; each costs memory in every run. */
export const MOST_CARRIERS = 100_000
