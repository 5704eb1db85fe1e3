import type { Boxes } from './boxes.ts'
import type { Channel } from './channel.ts'
import { BLOCKED, IDEAL_TIME, type Meter, PRODUCTIVE, STARTS, STARVED, STATES } from './meter.ts'
import { FULL, IDLE, PLAIN } from './phases.ts'
import {
  CALENDAR,
  FINISH,
  FIXED,
  HOLDS,
  IDLE_FROM,
  LEFT,
  PHASE,
  QUIET,
  RESTS,
  SINCE,
  STANDS,
  STATE,
  STRIKING,
  type ToolFields,
  WORK,
} from './tool-fields.ts'
import type { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

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

/** Wafers that have left the line within the loop, and when: they are counted after it, since a call within would cost each act. */
const GONE = { wafer: new Int32Array(256), ready: new Float64Array(256) }

/**
 * The fast loop of a single-wafer station between two buffers (first in, first out), or before the end of the line:
 * the same acts in the same order as `SingleStation.advance`, for as long as nothing
 * happens but plain work, and every arrival and every free place that matters is
 * recorded. At anything else it returns, with the station as if the acts had been done
 * one by one. The strict drive never comes here, so each comparison of the drives also
 * compares this loop with the general one.
 *
 * It is long because it holds everything it touches in locals: that makes it three
 * times as fast as the general loop.
 *
 * @param output not used at the end of the line
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns acts done
 */
export function rush(host: RushHost, input: Channel, output: Channel, stop: number): number {
  const { idle, full, tools, idleLimit, exit, boxes } = host
  const { all } = host.fields
  // Where each field begins; that of the next events is the first.
  const phase = PHASE * tools
  const state = STATE * tools
  const since = SINCE * tools
  const rests = RESTS * tools
  const stands = STANDS * tools
  const idleFrom = IDLE_FROM * tools
  const work = WORK * tools
  const fixed = FIXED * tools
  const holds = HOLDS * tools
  const quiet = QUIET * tools
  const finish = FINISH * tools
  const left = LEFT * tools
  const calendar = CALENDAR * tools
  const striking = STRIKING * tools
  const { flow, counter, base, state: books } = host.meter
  const { ready, wafer: arrivals, mask, outside } = input
  const { room, roomMask, delay } = output
  const { ready: outReady, wafer: departures } = exit ? GONE : output
  const outMask = exit ? GONE.wafer.length - 1 : output.mask
  const stamps = host.stamp >= 0 ? host.wafers.stamps[host.stamp] : undefined
  const bounded = output.bounded && !exit
  const inRoom = input.bounded ? input.room : undefined
  const inRoomMask = input.roomMask
  let { waiting, head } = input
  let inRoomTail = input.roomHead + input.roomLeft
  let { roomLeft, roomHead } = output
  let tail = exit ? 0 : (output.head + output.waiting) & outMask
  // An unbounded output has room for what its ring still holds; then the general loop makes the ring larger.
  let space = exit ? outMask : outMask + 1 - output.waiting
  let { now } = host
  let taken = flow[0]
  let takenSum = flow[1]
  let put = flow[2]
  let putSum = flow[3]
  let ideal = 0
  let acts = 0
  for (;;) {
    // What comes first: a tool event; a full tool, once it finds a place; an idle tool, once a wafer is there.
    let tool = earliest(all, tools)
    let time = all[tool]
    let from = PRODUCTIVE
    if (full.count > 0) {
      if (roomLeft === 0) break
      const place = room[roomHead] > now ? room[roomHead] : now
      if (place <= time) {
        time = place
        tool = full.first()
        from = BLOCKED
      }
    }
    if (idle.count > 0) {
      if (waiting === 0) break
      const arrival = ready[head] > now ? ready[head] : now
      if (arrival < time) {
        time = arrival
        tool = idle.first()
        from = STARVED
      }
    }
    // Leave to the general loop what is not plain, or not known.
    if (time >= stop || (from !== STARVED && space === 0)) break
    if (from !== PRODUCTIVE && time - all[finish + tool] > idleLimit) break
    let finds = from === BLOCKED
    if (from === PRODUCTIVE) {
      if (all[phase + tool] !== PLAIN) break
      if (bounded && full.count === 0 && roomLeft === 0) break
      // A call that is never made costs the loop nothing.
      if (all[quiet + tool] <= 1 && !(boxes && host.boxesCell(tool, time))) break
      finds = full.count === 0 && (!bounded || room[roomHead] <= time)
    }
    // The next wafer at once, unless none waits, others wait longer, or a stop is due.
    const next = finds && idle.count === 0 && waiting > 0 && ready[head] <= time && all[rests + tool] > time
    acts++
    now = time
    // What works on is booked when it ceases to.
    if (from !== PRODUCTIVE || !next) {
      books[tool * STATES + from] += time - all[since + tool]
      all[since + tool] = time
    }
    if (from === STARVED) idle.takeFirst()
    else if (from === BLOCKED) full.takeFirst()
    else {
      all[quiet + tool]--
      ideal += all[work + tool]
    }
    if (from !== STARVED) {
      if (!finds) {
        all[state + tool] = BLOCKED
        all[phase + tool] = FULL
        all[tool] = all[stands + tool] > time ? all[stands + tool] : time
        full.add(tool)
        continue
      }
      // Hand over.
      if (stamps) stamps[all[holds + tool]] = time
      departures[tail] = all[holds + tool]
      outReady[tail] = time + delay
      tail = (tail + 1) & outMask
      space--
      put++
      putSum += time - base
      if (bounded) {
        roomHead = (roomHead + 1) & roomMask
        roomLeft--
      }
      if (!next) {
        all[holds + tool] = -1
        all[state + tool] = STARVED
        all[phase + tool] = IDLE
        all[tool] = all[rests + tool] > time ? all[rests + tool] : time
        all[idleFrom + tool] = time
        idle.add(tool)
        continue
      }
    }
    // Take the next wafer.
    const wafer = arrivals[head]
    head = (head + 1) & mask
    waiting--
    if (inRoom) inRoom[inRoomTail++ & inRoomMask] = time
    if (outside) host.wafers.birth[wafer] = time
    taken++
    takenSum += time - base
    all[holds + tool] = wafer
    let lasts = all[fixed + tool]
    if (lasts === 0) lasts = host.nextCycle(tool)
    if (from !== PRODUCTIVE || lasts !== all[work + tool]) {
      all[state + tool] = PRODUCTIVE
      all[phase + tool] = PLAIN
      all[work + tool] = lasts
    }
    const end = time + lasts
    // At once when no stop can come into it.
    if (lasts > all[left + tool] || end >= all[calendar + tool] || all[striking + tool] >= 0)
      host.begin(tool, time, lasts)
    else {
      all[left + tool] -= lasts
      all[finish + tool] = end
      all[tool] = end
    }
  }
  host.now = now
  input.waiting = waiting
  input.head = head
  if (inRoom) input.roomLeft = inRoomTail - input.roomHead
  counter[STARTS] += taken - flow[0]
  flow[0] = taken
  flow[1] = takenSum
  if (exit) for (let w = 0; w < tail; w++) host.leave(departures[w], outReady[w] - delay)
  else {
    output.roomLeft = roomLeft
    output.roomHead = roomHead
    output.waiting += put - flow[2]
    flow[2] = put
    flow[3] = putSum
  }
  counter[IDEAL_TIME] += ideal
  return acts
}

/** The tool whose event comes first, the lowest of equals. */
function earliest(at: Float64Array, tools: number): number {
  let best = 0
  for (let t = 1; t < tools; t++) if (at[t] < at[best]) best = t
  return best
}
