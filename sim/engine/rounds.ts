import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import type { SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { FINISH, FIXED, IDLE_FROM, SINCE, WORK } = Fields

/** What the only tool of a station, idle before, has done in rounds: see `oneByOne` and `handStraight`. */
export interface Rounds {
  /** Wafers taken, and of them those put again: all, or all but the last. */
  readonly taken: number
  readonly done: number
  /** End of the last work, the last put; ticks for which the tool was blocked. */
  readonly finish: number
  readonly last: number
  readonly blocked: number
  /** Sums of the ticks of takes and puts, from the begin of the part of the block on. */
  readonly takenSum: number
  readonly putSum: number
  /** Places that were foretold, and when the take after them may come. */
  readonly foreseen: number
  readonly nextTake: number
}

/** Writes down what has been done in rounds, up to the end of the last: that of its work, if the wafer was not put. */
export function closeRounds(tool: SoloHost, output: Channel, rounds: Rounds): void {
  const { taken, done, finish, last, blocked } = rounds
  const { all } = tool.fields
  const work = all[FIXED]
  const from = (output.head + output.waiting) | 0
  output.havePut(done, rounds.foreseen, rounds.nextTake)
  tool.treatment?.applyAll(0, output.wafer, output.mask, from, done, last, 0)
  if (tool.stamp >= 0) output.stamp(tool.wafers.stamps[tool.stamp], from, done)
  const { flow, counter, state } = tool.meter
  flow[0] += taken
  flow[1] += rounds.takenSum
  flow[2] += done
  flow[3] += rounds.putSum
  const end = done < taken ? finish : last
  counter[STARTS] += taken
  counter[IDEAL_TIME] += taken * work
  state[STARVED] += end - all[SINCE] - taken * work - blocked
  state[PRODUCTIVE] += taken * work
  state[BLOCKED] += blocked
  tool.now = all[SINCE] = end
  all[FINISH] = finish
  all[WORK] = work
  if (done > 0) all[IDLE_FROM] = last
}
