import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import type { Feed } from '../../sim/line/types.ts'

/** Building blocks of lines with given times, in seconds. */
export function seconds(time: number): Time {
  return `${time} s`
}

/** These times in this order. */
export function replay(times: readonly number[]): Spread<Time> {
  return { replayed: times.map(seconds) }
}

/** So many wafers, all of them before the line at time 0. */
export function allAtOnce(wafers: number): Feed {
  return { every: { replayed: ['0 s', '1 h'] }, carrier: wafers, wafers }
}

/** Wafers that come at these times. */
export function arriving(times: readonly number[]): Feed {
  return { every: replay(times.map((time, index) => time - (times[index - 1] ?? 0))), wafers: times.length }
}
