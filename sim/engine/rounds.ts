import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import type { SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { FINISH, FIXED, IDLE_FROM, SINCE, WORK } = Fields

/** What the only tool of a station has done in rounds: see `oneByOne` and `handStraight`. */
export interface Rounds {
  /** Wafers taken, wafers put, and how many works have begun and ended. */
  readonly taken: number
  readonly done: number
  readonly works: number
  /** End of the last work that has begun, the last put; ticks for which the tool was blocked. */
  readonly finish: number
  readonly last: number
  readonly blocked: number
  /** The last act: what comes after it is not written down. */
  readonly until: number
  /** Sums of the ticks of takes and puts, from the begin of the part of the block on. */
  readonly takenSum: number
  readonly putSum: number
  /** Places that were foretold, and when the take after them may come. */
  readonly foreseen: number
  readonly nextTake: number
}

/** Writes down the work that was under way before the rounds, and has ended in the first. */
export function closeWork({ fields: { all }, meter }: SoloHost): void {
  meter.state[PRODUCTIVE] += all[FINISH] - all[SINCE]
  meter.counter[IDEAL_TIME] += all[WORK]
  all[SINCE] = all[FINISH]
}

/** Writes down what has been done in rounds. */
export function closeRounds(tool: SoloHost, output: Channel, rounds: Rounds): void {
  const { taken, done, works, finish, last, blocked, until } = rounds
  const { all } = tool.fields
  const work = all[FIXED]
  const from = (output.head + output.waiting) | 0
  output.havePut(done, rounds.foreseen, rounds.nextTake)
  tool.treatment?.applyAll(0, output.wafer, output.mask, from, done, last, 0)
  if (tool.stamp >= 0) output.stamp(tool.wafers.stamps[tool.stamp], from, done)
  const { counter, state } = tool.meter
  tool.meter.countThrough(taken, rounds.takenSum, done, rounds.putSum)
  counter[STARTS] += taken
  counter[IDEAL_TIME] += works * work
  state[STARVED] += until - all[SINCE] - works * work - blocked
  state[PRODUCTIVE] += works * work
  state[BLOCKED] += blocked
  tool.now = all[SINCE] = until
  all[FINISH] = finish
  all[WORK] = work
  if (done > 0) all[IDLE_FROM] = last
}
