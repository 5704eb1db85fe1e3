import type { Channel } from './channel.ts'
import { BLOCKED, IDEAL_TIME, type Meter, PRODUCTIVE, STARTS, STARVED, STATES } from './meter.ts'
import { FULL, IDLE, PLAIN } from './phases.ts'
import type { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

/** What the fast loop reads and writes of a single-wafer station. */
export interface RushHost {
  now: number
  readonly tools: number
  readonly meter: Meter
  readonly wafers: Wafers
  readonly at: Float64Array
  readonly phase: Uint8Array
  readonly state: Uint8Array
  readonly since: Float64Array
  readonly left: Float64Array
  readonly calendar: Float64Array
  readonly rests: Float64Array
  readonly stands: Float64Array
  readonly idleFrom: Float64Array
  readonly stamp: number
  readonly striking: Int16Array
  readonly finish: Float64Array
  readonly work: Float64Array
  readonly fixed: Float64Array
  readonly holds: Int32Array
  readonly quiet: Float64Array
  readonly idleLimit: number
  readonly idle: ToolQueue
  readonly full: ToolQueue
  nextCycle(tool: number): number
  /** Good wafers leave the line here. */
  readonly exit: boolean
  leave(wafer: number, time: number): void
  begin(tool: number, time: number, work: number): void
}

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
  const { at, phase, state, since, rests, stands, idleFrom, work, fixed, holds, idle, full, quiet, tools } =
    host
  const { finish, idleLimit, exit } = host
  const { flow, counter, base, state: books } = host.meter
  const { ready, wafer: arrivals, mask, outside } = input
  const { room, roomMask, ready: outReady, wafer: departures, mask: outMask, delay } = output
  const stamps = host.stamp >= 0 ? host.wafers.stamps[host.stamp] : undefined
  const bounded = output.bounded && !exit
  const inRoom = input.bounded ? input.room : undefined
  const inRoomMask = input.roomMask
  let { waiting, head } = input
  let inRoomTail = input.roomHead + input.roomLeft
  let { roomLeft, roomHead } = output
  let tail = (output.head + output.waiting) & outMask
  // An unbounded output has room for what its ring still holds; then the general loop makes the ring larger.
  let space = exit ? Infinity : outMask + 1 - output.waiting
  let { now } = host
  let taken = flow[0]
  let takenSum = flow[1]
  let put = flow[2]
  let putSum = flow[3]
  let starts = 0
  let ideal = 0
  let acts = 0
  for (;;) {
    // What comes first: a tool event; a full tool, once it finds a place; an idle tool, once a wafer is there.
    let tool = earliest(at, tools)
    let time = at[tool]
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
    if (from !== PRODUCTIVE && time - finish[tool] > idleLimit) break
    let finds = from === BLOCKED
    if (from === PRODUCTIVE) {
      if (phase[tool] !== PLAIN || quiet[tool] <= 1) break
      if (bounded && full.count === 0 && roomLeft === 0) break
      finds = full.count === 0 && (!bounded || room[roomHead] <= time)
    }
    // The next wafer at once, unless none waits, others wait longer, or a stop is due.
    const next = finds && idle.count === 0 && waiting > 0 && ready[head] <= time && rests[tool] > time
    acts++
    now = time
    // What works on is booked when it ceases to.
    if (from !== PRODUCTIVE || !next) {
      books[tool * STATES + from] += time - since[tool]
      since[tool] = time
    }
    if (from === STARVED) idle.takeFirst()
    else if (from === BLOCKED) full.takeFirst()
    else {
      quiet[tool]--
      ideal += work[tool]
    }
    if (from !== STARVED) {
      if (!finds) {
        state[tool] = BLOCKED
        phase[tool] = FULL
        at[tool] = stands[tool] > time ? stands[tool] : time
        full.add(tool)
        continue
      }
      // Hand over.
      if (exit) host.leave(holds[tool], time)
      else {
        if (stamps) stamps[holds[tool]] = time
        departures[tail] = holds[tool]
        outReady[tail] = time + delay
        tail = (tail + 1) & outMask
        space--
        put++
        putSum += time - base
      }
      if (bounded) {
        roomHead = (roomHead + 1) & roomMask
        roomLeft--
      }
      if (!next) {
        holds[tool] = -1
        state[tool] = STARVED
        phase[tool] = IDLE
        at[tool] = rests[tool] > time ? rests[tool] : time
        idleFrom[tool] = time
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
    starts++
    holds[tool] = wafer
    state[tool] = PRODUCTIVE
    work[tool] = fixed[tool] > 0 ? fixed[tool] : host.nextCycle(tool)
    start(host, tool, time, work[tool])
  }
  host.now = now
  input.waiting = waiting
  input.head = head
  if (inRoom) input.roomLeft = inRoomTail - input.roomHead
  flow[0] = taken
  flow[1] = takenSum
  if (!exit) {
    output.roomLeft = roomLeft
    output.roomHead = roomHead
    output.waiting += put - flow[2]
    flow[2] = put
    flow[3] = putSum
  }
  counter[STARTS] += starts
  counter[IDEAL_TIME] += ideal
  return acts
}

/** The tool whose event comes first, the lowest of equals. */
function earliest(at: Float64Array, tools: number): number {
  let best = 0
  for (let t = 1; t < tools; t++) if (at[t] < at[best]) best = t
  return best
}

/** Starts work: at once when no stop can come into it. */
function start(host: RushHost, tool: number, time: number, work: number): void {
  const end = time + work
  if (work > host.left[tool] || end >= host.calendar[tool] || host.striking[tool] >= 0) {
    host.begin(tool, time, work)
    return
  }
  host.left[tool] -= work
  host.finish[tool] = end
  host.phase[tool] = PLAIN
  host.at[tool] = end
}
