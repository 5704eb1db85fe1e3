import type { Boxes } from './boxes.ts'
import type { Meter } from './meter.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { ToolFields } from './tool-fields.ts'
import * as Fields from './tool-fields.ts'
import type { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARVED, STATES } = Books
const { FULL, IDLE, PLAIN } = Phases
const { BEGUN, ENDED, FINISH, FIXED, HOLDS, IDLE_FROM, MENDS, PHASE, QUIET } = Fields
const { RESTS, SINCE, STANDS, STATE, STRIKING, TO_COME, WAS_BLOCKED, WORK } = Fields

/** What the fast loop reads and writes of a single-wafer station. */
export interface RushHost {
  now: number
  readonly tools: number
  readonly meter: Meter
  readonly wafers: Wafers
  readonly fields: ToolFields
  readonly stamp: number
  readonly idleLimit: number
  readonly idle: ToolQueue
  readonly full: ToolQueue
  nextCycle(tool: number): number
  /** Good wafers leave the line here. */
  readonly exit: boolean
  leave(wafer: number, time: number): void
  begin(tool: number, time: number, work: number): void
  /** Set at a sorter. */
  readonly boxes: Boxes | undefined
  /** At a sorter: the cell of the tool goes into its box, and nothing comes of that. @returns false when it does not, or something does */
  boxesCell(tool: number, time: number): boolean
}

/** More than any loop lets end, for tools to which nothing ever happens. */
const MANY = 2 ** 50

/** Of `ENDED`: a tool that the loop leaves as it is. */
const UNTOUCHED = -1

/** Before this tick, at most `stop`, no stop strikes a tool, but by running time; a tool that is not at plain work has no event. */
export function plainUntil({ fields: { all }, tools }: RushHost, stop: number): number {
  let until = stop
  for (let t = 0; t < tools; t++) {
    const phase = all[PHASE * tools + t]
    const rests = all[RESTS * tools + t]
    const stands = all[STANDS * tools + t]
    if (phase !== IDLE && phase !== PLAIN && phase !== FULL) until = Math.min(until, all[t])
    else if (all[STRIKING * tools + t] >= 0 || (phase === IDLE && all[t] < rests)) return -Infinity
    else until = Math.min(until, rests, stands)
  }
  return until
}

/** Before the loop: what it needs of each tool to find its books afterwards; tools that wait have no event of their own. */
export function openTools({ fields: { all }, tools, meter }: RushHost): void {
  for (let t = 0; t < tools; t++) {
    const phase = all[PHASE * tools + t]
    const works = phase === PLAIN
    const work = works ? all[WORK * tools + t] : 0
    const waits = phase === IDLE || phase === FULL
    all[ENDED * tools + t] = works || waits ? Math.min(all[QUIET * tools + t], MANY) : UNTOUCHED
    all[TO_COME * tools + t] = all[ENDED * tools + t]
    all[BEGUN * tools + t] = work
    all[MENDS * tools + t] = works ? all[t] - all[SINCE * tools + t] - work : 0
    all[WAS_BLOCKED * tools + t] = meter.state[t * STATES + BLOCKED]
    if (waits) all[t] = Infinity
  }
}

/** After the loop: the books of each tool, and what other loops look at. */
export function closeTools({ fields: { all }, tools, meter, boxes }: RushHost): void {
  const { state: books, counter } = meter
  for (let t = 0; t < tools; t++) {
    if (all[ENDED * tools + t] === UNTOUCHED) continue
    const phase = all[PHASE * tools + t]
    const ended = all[ENDED * tools + t] - all[TO_COME * tools + t]
    if (!boxes) all[QUIET * tools + t] -= ended
    const fixed = all[FIXED * tools + t]
    let waitsFrom = all[(phase === IDLE ? IDLE_FROM : FINISH) * tools + t]
    let worked = fixed > 0 ? ended * fixed : all[BEGUN * tools + t]
    if (phase === IDLE) {
      all[HOLDS * tools + t] = -1
      all[STATE * tools + t] = STARVED
      all[t] = all[RESTS * tools + t]
    } else if (phase === FULL) {
      all[STATE * tools + t] = BLOCKED
      all[t] = all[STANDS * tools + t]
    } else {
      // What it works on is not booked yet.
      if (fixed > 0) all[WORK * tools + t] = fixed
      else worked -= all[WORK * tools + t]
      if (phase === PLAIN) all[FINISH * tools + t] = all[t]
      waitsFrom = all[FINISH * tools + t] - all[WORK * tools + t]
      all[STATE * tools + t] = PRODUCTIVE
    }
    const from = all[SINCE * tools + t]
    const to = Math.max(from, waitsFrom)
    // The first work may have begun before the last entry in the books.
    const productive = ended > 0 ? worked + all[MENDS * tools + t] : worked
    const blocked = books[t * STATES + BLOCKED] - all[WAS_BLOCKED * tools + t]
    books[t * STATES + PRODUCTIVE] += productive
    books[t * STATES + STARVED] += to - from - productive - blocked
    all[SINCE * tools + t] = to
    counter[IDEAL_TIME] += worked
  }
}
