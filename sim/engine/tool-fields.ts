/** Numbers of a tool that the work on wafers looks at. */
export const AT = 0
export const PHASE = 1
export const STATE = 2
export const SINCE = 3
export const FINISH = 4
export const WORK = 5
export const IDLE_FROM = 6
export const LEFT = 7
export const CALENDAR = 8
export const RESTS = 9
export const STANDS = 10
export const WHEN_EMPTY = 11
export const STRIKING = 12
export const QUIET = 13
/** Single-wafer tools. */
export const FIXED = 14
export const HOLDS = 15
/** Belts. */
export const FREE = 14
export const STILL = 15
/** For the loop of several single-wafer tools, while it runs: see `openTools`. */
export const ENDED = 16
export const TO_COME = 17
export const BEGUN = 18
export const MENDS = 19
export const WAS_BLOCKED = 20

const FIELDS = 21

/**
 * The numbers of all tools of a station in one array: field f of tool t at f * tools + t.
 * The fast loops look at them there, since each array of its own would cost them its
 * length and its address at every look; that made them faster by a tenth. All others see
 * the fields as arrays by tool (`of`).
 */
export class ToolFields {
  readonly all: Float64Array

  constructor(private readonly tools: number) {
    this.all = new Float64Array(FIELDS * tools)
  }

  /** One field, by tool. */
  of(field: number): Float64Array {
    return this.all.subarray(field * this.tools, (field + 1) * this.tools)
  }
}
