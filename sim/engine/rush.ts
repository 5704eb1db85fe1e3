import type { Channel } from './channel.ts'
import { BLOCKED, ENDED, IDEAL_TIME, type Meter, PRODUCTIVE, STARTS, STARVED, STATES } from './meter.ts'
import { FULL, IDLE, PLAIN } from './phases.ts'
import type { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

/** What the fast loop reads and writes of a single-wafer station. */
export interface RushHost {
  now: number
  readonly tools: number
  readonly meter: Meter
  readonly at: Float64Array
  readonly phase: Uint8Array
  readonly state: Uint8Array
  readonly since: Float64Array
  readonly left: Float64Array
  readonly calendar: Float64Array
  readonly striking: Int16Array
  readonly finish: Float64Array
  readonly work: Float64Array
  readonly holds: Int32Array
  readonly idle: ToolQueue
  readonly full: ToolQueue
  readonly quiet: Float64Array
  readonly fixed: Float64Array
  readonly wafers: Wafers
  nextCycle(tool: number): number
  begin(tool: number, time: number, work: number): void
}

/**
 * The fast loop of a single-wafer station between two buffers (first in, first out):
 * the same acts in the same order as `SingleStation.advance`, for as long as nothing
 * happens but plain work, and every arrival and every free place that matters is
 * recorded. At anything else it returns, with the station as if the acts had been done
 * one by one. The strict drive never comes here, so each comparison of the drives also
 * compares this loop with the general one.
 *
 * Everything it touches is held in locals: that is what makes it fast.
 *
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns acts done
 */
export function rush(host: RushHost, input: Channel, output: Channel, outFlow: number, stop: number): number {
  const {
    tools,
    at,
    phase,
    state,
    since,
    left,
    calendar,
    striking,
    finish,
    work,
    holds,
    idle,
    full,
    quiet,
    fixed,
  } = host
  const { flow, counter, base, state: books } = host.meter
  const { ready, wafer: waitingWafers, mask, room: inRoom, roomMask: inRoomMask, bounded: inBounded } = input
  const { room, roomMask, ready: outReady, wafer: outWafers, mask: outMask, delay } = output
  const { endless } = input
  let { waiting, head } = input
  let inRoomTail = (input.roomHead + input.roomLeft) & inRoomMask
  // An unbounded output has room for what its ring still holds; then the general loop makes the ring larger.
  const outBounded = output.bounded
  let { roomLeft, roomHead } = output
  let outTail = (output.head + output.waiting) & outMask
  let outSpace = outMask + 1 - output.waiting
  let now = host.now
  let [taken, takenSum, put, putSum, starts, ended, ideal] = [
    flow[0],
    flow[1],
    flow[outFlow],
    flow[outFlow + 1],
    0,
    0,
    0,
  ]
  let acts = 0
  for (;;) {
    // The earliest tool event, or a full tool that finds a place before it, or an idle one its wafer.
    let tool = 0
    let time = at[0]
    for (let t = 1; t < tools; t++)
      if (at[t] < time) {
        time = at[t]
        tool = t
      }
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
    if (time >= stop) break
    let hands = true
    if (from === PRODUCTIVE) {
      if (phase[tool] !== PLAIN || quiet[tool] <= 1) break
      if (full.count > 0) hands = false
      else if (outBounded) {
        if (roomLeft === 0) break
        hands = room[roomHead] <= time
      }
    }
    if (from !== STARVED && hands && outSpace === 0) break
    now = time
    acts++
    books[tool * STATES + from] += time - since[tool]
    since[tool] = time
    if (from === PRODUCTIVE) {
      quiet[tool]--
      ended++
      ideal += work[tool]
      if (!hands) {
        state[tool] = BLOCKED
        phase[tool] = FULL
        at[tool] = calendar[tool]
        full.add(tool)
        continue
      }
    } else if (from === BLOCKED) full.takeFirst()
    else idle.takeFirst()
    if (from !== STARVED) {
      outWafers[outTail] = holds[tool]
      outReady[outTail] = time + delay
      outTail = (outTail + 1) & outMask
      outSpace--
      if (outBounded) {
        roomHead = (roomHead + 1) & roomMask
        roomLeft--
      }
      put++
      putSum += time - base
      // The next wafer at once, unless none waits, others wait longer, or a stop is due.
      if (idle.count > 0 || waiting === 0 || ready[head] > time || calendar[tool] <= time) {
        holds[tool] = -1
        state[tool] = STARVED
        phase[tool] = IDLE
        at[tool] = calendar[tool] > time ? calendar[tool] : time
        idle.add(tool)
        continue
      }
    }
    const next = waitingWafers[head]
    holds[tool] = next
    if (endless) host.wafers.birth[next] = time
    head = (head + 1) & mask
    waiting--
    if (inBounded) {
      inRoom[inRoomTail] = time
      inRoomTail = (inRoomTail + 1) & inRoomMask
      input.roomLeft++
    }
    taken++
    takenSum += time - base
    starts++
    state[tool] = PRODUCTIVE
    const cycle = fixed[tool] > 0 ? fixed[tool] : host.nextCycle(tool)
    work[tool] = cycle
    const end = time + cycle
    if (cycle <= left[tool] && end < calendar[tool] && striking[tool] < 0) {
      left[tool] -= cycle
      finish[tool] = end
      phase[tool] = PLAIN
      at[tool] = end
    } else host.begin(tool, time, cycle)
  }
  input.waiting = waiting
  input.head = head
  output.roomLeft = roomLeft
  output.roomHead = roomHead
  output.waiting += put - flow[outFlow]
  host.now = now
  flow[0] = taken
  flow[1] = takenSum
  flow[outFlow] = put
  flow[outFlow + 1] = putSum
  counter[STARTS] += starts
  counter[ENDED] += ended
  counter[IDEAL_TIME] += ideal
  return acts
}
