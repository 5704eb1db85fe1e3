import type { Boxes } from './boxes.ts'
import type { Channel } from './channel.ts'
import type { Meter } from './meter.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { ToolFields } from './tool-fields.ts'
import * as Fields from './tool-fields.ts'
import type { ToolQueue } from './tool-queue.ts'
import type { Wafers } from './wafers.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED, STATES } = Books
const { FULL, IDLE, PLAIN } = Phases
const {
  BEGUN,
  CALENDAR,
  ENDED,
  FINISH,
  FIXED,
  HOLDS,
  IDLE_FROM,
  LEFT,
  MENDS,
  PHASE,
  QUIET,
  RESTS,
  SINCE,
  STANDS,
  STATE,
  STRIKING,
  TO_COME,
  WAS_BLOCKED,
  WORK,
} = Fields

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

/** More than any loop lets end, for tools to which nothing ever happens. */
const MANY = 2 ** 50

/** Of `ENDED`: a tool that the loop leaves as it is. */
const UNTOUCHED = -1

/**
 * The fast loop of a single-wafer station between two buffers (first in, first out), or before the end of the line:
 * the same acts in the same order as `SingleStation.advance`, for as long as nothing
 * happens but plain work, and every arrival and every free place that matters is
 * recorded. At anything else it returns, with the station as if the acts had been done
 * one by one. The strict drive never comes here, so each comparison of the drives also
 * compares this loop with the general one.
 *
 * Per act it writes down only what the acts after it look at: the books of the tools
 * follow from how many wafers each has ended (see `settle`). It is long because it holds
 * everything it touches in locals.
 *
 * @param output not used at the end of the line
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns acts done
 */
export function rush(host: RushHost, input: Channel, output: Channel, stop: number): number {
  let before = plainUntil(host, stop)
  let { now } = host
  if (!(before > now)) return 0
  openTools(host)
  const { idle, full, tools, idleLimit, exit, boxes } = host
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
  const { flow, counter, base, state: books } = host.meter
  const stamps = host.stamp >= 0 ? host.wafers.stamps[host.stamp] : undefined
  const limited = idleLimit < Infinity
  const bounded = output.bounded && !exit
  const { ready, wafer: arrivals, mask, outside, head: firstHead } = input
  const headEnd = firstHead + input.waiting
  const inRoom = input.bounded ? input.room : undefined
  const inRoomMask = input.roomMask
  // From the place of a wafer in the ring of arrivals to that of the room which its taking makes.
  const toInRoom = input.roomHead + input.roomLeft - firstHead
  const { ready: outReady, wafer: departures } = exit ? GONE : output
  const outMask = exit ? GONE.wafer.length - 1 : output.mask
  const { room, roomMask, delay } = output
  const firstTail = exit ? 0 : output.head + output.waiting
  // From the place of a wafer in the ring of departures to that of the room which it uses.
  const toRoom = output.roomHead - firstTail
  const roomEnd = firstTail + output.roomLeft
  // An unbounded output has room for what its ring still holds; then the general loop makes the ring larger.
  const tailEnd = exit ? outMask : output.head + outMask + 1
  const idleRing = idle.ring
  const fullRing = full.ring
  const queueMask = idle.mask
  let idleHead = idle.head
  let idleTail = idleHead + idle.count
  let fullHead = full.head
  let fullTail = fullHead + full.count
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
      if (stamps) stamps[all[holds + tool]] = time
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
    if (outside) host.wafers.birth[wafer] = time
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
    flow[2] += put
    flow[3] += putSum
  }
  return acts
}

/** Before this tick, at most `stop`, no stop strikes a tool, but by running time; a tool that is not at plain work has no event. */
function plainUntil({ fields: { all }, tools }: RushHost, stop: number): number {
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
function openTools({ fields: { all }, tools, meter }: RushHost): void {
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
function closeTools({ fields: { all }, tools, meter, boxes }: RushHost): void {
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
