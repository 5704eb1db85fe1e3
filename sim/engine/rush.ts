import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import { closeTools, openTools, plainUntil, type RushHost } from './rush-tools.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, PRODUCTIVE, STARTS, STARVED, STATES } = Books
const { FULL, IDLE, PLAIN } = Phases
const { BEGUN, CALENDAR, ENDED, FINISH, FIXED, HOLDS } = Fields
const { IDLE_FROM, LEFT, PHASE, QUIET, SINCE, TO_COME, WORK } = Fields

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
 * Per act it writes down only what the acts after it look at: the books of the tools
 * follow from how many wafers each has ended (see `closeTools`). It is long because it holds
 * everything it touches in locals. On `| 0` and `- 0` see DEVELOPERS.md.
 *
 * @param output not used at the end of the line
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns acts done
 */
export function rush(host: RushHost, input: Channel, output: Channel, stop: number): number {
  let before = plainUntil(host, stop) - 0
  let now = host.now - 0
  if (!(before > now)) return 0
  openTools(host)
  const { idle, full, boxes } = host
  const exit = host.exit === true
  const tools = host.tools | 0
  const idleLimit = host.idleLimit - 0
  const { all } = host.fields
  // Where each field begins; that of the next events is the first.
  const phase = PHASE * tools
  const idleFrom = IDLE_FROM * tools
  const fixed = FIXED * tools
  const holds = HOLDS * tools
  const finish = FINISH * tools
  const left = LEFT * tools
  const calendar = CALENDAR * tools
  const toCome = TO_COME * tools
  const { flow, counter, state: books } = host.meter
  const base = host.meter.base - 0
  const { birth } = host.wafers
  const limited = idleLimit < Infinity
  const bounded = output.bounded === true && !exit
  const { ready, wafer: arrivals } = input
  const outside = input.outside === true
  const mask = input.mask | 0
  const firstHead = input.head | 0
  const headEnd = (firstHead + input.waiting) | 0
  const inRoom = input.bounded ? input.room : undefined
  const inRoomMask = input.roomMask | 0
  // From the place of a wafer in the ring of arrivals to that of the room which its taking makes.
  const toInRoom = (input.roomHead + input.roomLeft - firstHead) | 0
  const { ready: outReady, wafer: departures } = exit ? GONE : output
  const outMask = exit ? GONE.wafer.length - 1 : output.mask | 0
  const { room } = output
  const roomMask = output.roomMask | 0
  const delay = output.delay - 0
  const firstTail = exit ? 0 : (output.head + output.waiting) | 0
  // From the place of a wafer in the ring of departures to that of the room which it uses.
  const toRoom = (output.roomHead - firstTail) | 0
  const roomEnd = (firstTail + output.roomLeft) | 0
  // An unbounded output has room for what its ring still holds; then the general loop makes the ring larger.
  const tailEnd = exit ? outMask : (output.head + outMask + 1) | 0
  const idleRing = idle.ring
  const fullRing = full.ring
  const queueMask = idle.mask | 0
  let idleHead = idle.head | 0
  let idleTail = (idleHead + idle.count) | 0
  let fullHead = full.head | 0
  let fullTail = (fullHead + full.count) | 0
  let head = firstHead
  let tail = firstTail
  let takenSum = 0
  let putSum = 0
  let acts = 0
  for (;;) {
    // What comes first: a tool event; a full tool, once it finds a place; an idle tool, once a wafer is there.
    let tool = 0
    let time = all[0]
    for (let t = 1; t < tools; t++)
      if (all[t] < time) {
        time = all[t]
        tool = t
      }
    let from = PRODUCTIVE
    const queues = fullTail !== fullHead
    if (queues) {
      if (tail === roomEnd) break
      const free = room[(tail + toRoom) & roomMask]
      const place = free > now ? free : now
      if (place <= time) {
        time = place
        tool = fullRing[fullHead & queueMask]
        from = BLOCKED
      }
    }
    const rests = idleTail !== idleHead
    if (rests) {
      if (head === headEnd) break
      const came = ready[head & mask]
      const arrival = came > now ? came : now
      if (arrival < time) {
        time = arrival
        tool = idleRing[idleHead & queueMask]
        from = STARVED
      }
    }
    // Leave to the general loop what is not plain, or not known.
    if (time >= before || (from !== STARVED && tail === tailEnd)) break
    if (limited && from !== PRODUCTIVE && time - all[finish + tool] > idleLimit) break
    let finds = from === BLOCKED
    if (from === PRODUCTIVE) {
      if (bounded && !queues && tail === roomEnd) break
      if (all[toCome + tool] <= 1) {
        // A call that is never made costs the loop nothing.
        if (!(boxes && host.boxesCell(tool, time))) break
        all[QUIET * tools + tool] = 1
        all[ENDED * tools + tool]++
        all[toCome + tool]++
      }
      all[toCome + tool]--
      finds = !queues && (!bounded || room[(tail + toRoom) & roomMask] <= time)
    }
    // The next wafer at once, unless none waits, or others wait longer.
    const next = finds && !rests && head !== headEnd && ready[head & mask] <= time
    acts++
    now = time
    if (from === BLOCKED) {
      const since = all[SINCE * tools + tool]
      books[tool * STATES + BLOCKED] += time - (since > all[finish + tool] ? since : all[finish + tool])
      fullHead++
    }
    if (from !== STARVED) {
      if (!finds) {
        all[phase + tool] = FULL
        all[finish + tool] = time
        all[tool] = Infinity
        fullRing[fullTail++ & queueMask] = tool
        continue
      }
      // Hand over.
      const to = tail & outMask
      departures[to] = all[holds + tool]
      outReady[to] = time + delay
      tail++
      putSum += time - base
      if (!next) {
        if (from === PRODUCTIVE) all[finish + tool] = time
        all[phase + tool] = IDLE
        all[idleFrom + tool] = time
        all[tool] = Infinity
        idleRing[idleTail++ & queueMask] = tool
        continue
      }
    } else idleHead++
    // Take the next wafer.
    const wafer = arrivals[head & mask]
    if (inRoom) inRoom[(head + toInRoom) & inRoomMask] = time
    if (outside) birth[wafer] = time
    head++
    takenSum += time - base
    all[holds + tool] = wafer
    if (from !== PRODUCTIVE) all[phase + tool] = PLAIN
    let lasts = all[fixed + tool]
    if (lasts === 0) {
      lasts = host.nextCycle(tool)
      all[WORK * tools + tool] = lasts
      all[BEGUN * tools + tool] += lasts
    }
    const end = time + lasts
    const rest = all[left + tool] - lasts
    // At once when no stop can come into it.
    if (rest >= 0 && end < all[calendar + tool]) {
      all[left + tool] = rest
      all[tool] = end
    } else {
      host.begin(tool, time, lasts)
      if (all[tool] < before) before = all[tool]
    }
  }
  host.now = now
  idle.head = idleHead & queueMask
  idle.count = idleTail - idleHead
  full.head = fullHead & queueMask
  full.count = fullTail - fullHead
  const taken = head - firstHead
  const put = tail - firstTail
  input.head = head & mask
  input.waiting -= taken
  if (inRoom) input.roomLeft += taken
  counter[STARTS] += taken
  flow[0] += taken
  flow[1] += takenSum
  closeTools(host)
  if (exit) for (let w = 0; w < put; w++) host.leave(departures[w], outReady[w] - delay)
  else {
    if (bounded) {
      output.roomHead = (output.roomHead + put) & roomMask
      output.roomLeft -= put
    }
    output.waiting += put
    if (host.stamp >= 0) output.stamp(host.wafers.stamps[host.stamp], firstTail, put)
    flow[2] += put
    flow[3] += putSum
  }
  return acts
}
