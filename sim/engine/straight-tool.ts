import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import type { SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { AT, FINISH, FIXED, IDLE_FROM, LEFT, QUIET, SINCE, WORK } = Fields

/** What has become of a tool in rounds, see `handStraight`. */
export interface Rounds {
  /** Wafers, each taken, worked on and put. */
  readonly done: number
  /** It asks for the next from this tick on, up to another. */
  readonly asked: number
  readonly until: number
  /** End of its last work; ticks for which it was blocked. */
  readonly finish: number
  readonly blocked: number
  /** Sums of the ticks of takes and puts, from the begin of the part of the block on. */
  readonly takenSum: number
  readonly putSum: number
  /** Places that were foretold, and when the take after them may come. */
  readonly foreseen: number
  readonly nextTake: number
}

/** Writes down what a tool has done in rounds: it was idle before, and is idle again and asks. */
export function closeTool(tool: SoloHost, input: Channel, output: Channel, rounds: Rounds): void {
  const { done, asked, until, finish, blocked, foreseen } = rounds
  const { all } = tool.fields
  const work = all[FIXED]
  input.roomHead = (input.roomHead + done) & input.roomMask
  input.room[input.roomHead] = asked
  input.voidFrom[input.roomHead] = until
  const from = (output.head + output.waiting) | 0
  output.waiting += done
  if (output.bounded) {
    output.roomHead = (output.roomHead + done) & output.roomMask
    output.roomLeft += foreseen - done
    output.foresee(foreseen, rounds.nextTake)
  }
  tool.treatment?.applyAll(0, output.wafer, output.mask, from, done, asked, 0)
  if (tool.stamp >= 0) output.stamp(tool.wafers.stamps[tool.stamp], from, done)
  const { flow, counter, state } = tool.meter
  flow[0] += done
  flow[1] += rounds.takenSum
  flow[2] += done
  flow[3] += rounds.putSum
  counter[STARTS] += done
  counter[IDEAL_TIME] += done * work
  state[STARVED] += asked - all[SINCE] - done * work - blocked
  state[PRODUCTIVE] += done * work
  state[BLOCKED] += blocked
  tool.now = all[SINCE] = all[IDLE_FROM] = asked
  all[FINISH] = finish
  all[AT] = until
  all[WORK] = work
  all[LEFT] -= done * work
  all[QUIET] -= done
}
