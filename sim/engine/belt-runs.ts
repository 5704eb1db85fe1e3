import type { BeltPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import type { Meter } from './meter.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { Tail } from './tail.ts'
import type { ToolFields } from './tool-fields.ts'
import * as Fields from './tool-fields.ts'
import type { Treatment } from './treatment.ts'
import type { Wafers } from './wafers.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED, STATES } = Books
const { IDLE } = Phases
const { AT, CALENDAR, FINISH, FREE, IDLE_FROM, LEFT, PHASE } = Fields
const { QUIET, SINCE, STATE, STRIKING, WHEN_EMPTY, WORK } = Fields

/** What the loops below read and write of a belt station. */
export interface BeltHost {
  now: number
  insideAll: number
  readonly plan: BeltPlan
  readonly tools: number
  readonly tails: readonly Tail[]
  readonly fields: ToolFields
  readonly meter: Meter
  readonly wafers: Wafers
  readonly stamp: number
  readonly idleLimit: number
  readonly treatment: Treatment | undefined
  /** A wafer enters only when it has a place behind the belt. */
  readonly reserves: boolean
  /** Per belt, within a loop: when its infeed is open, or its first wafer reaches the end; wafers that were on it before; time for which wafers were held back. */
  readonly next: Float64Array
  readonly onBelt: Float64Array
  readonly heldBack: Float64Array
  takeFrom(input: Channel, time: number): number
  isLate(wafer: number, time: number): boolean
}

/** No room is asked for. */
const NO_ROOM = new Float64Array(1)

/** Per wafer that leaves within a loop, by which belt; and the wafers of one of them. */
const LEFT_BY = new Int32Array(1024)
const OF_BELT = new Int32Array(LEFT_BY.length)

/**
 * Wafers enter, as long as they and the places that are reserved for them are recorded,
 * and nothing else can happen to them. It is long because it holds everything it touches
 * in locals; the books of the infeeds follow from how many have entered. On `| 0`, `- 0`
 * and `=== true` see DEVELOPERS.md.
 *
 * @param output not used where nothing is reserved
 * @param stop up to, not including, this tick: no block ends, no wafer reaches an end, no stop comes but by running time
 * @returns wafers that have entered
 */
export function takeIn(host: BeltHost, input: Channel, output: Channel, stop: number): number {
  // First: the columns of the table may become longer ones.
  input.supply(host.wafers)
  const { tails, next, heldBack } = host
  const tools = host.tools | 0
  const reserves = host.reserves === true
  const insideAll = host.insideAll | 0
  const idleLimit = host.idleLimit - 0
  const { timeLimits } = host.plan
  const keepFree = host.plan.keepFree - 0
  const slot = host.plan.slot - 0
  const transit = host.plan.transit - 0
  const { all } = host.fields
  const since = SINCE * tools
  const finish = FINISH * tools
  const base = host.meter.base - 0
  const { birth } = host.wafers
  const { ready: arrivals, wafer: arriving, stack } = input
  const outside = input.outside === true
  const lifo = input.lifo === true
  const mask = input.mask | 0
  const idles = idleLimit < Infinity
  const limited = timeLimits.length > 0
  const leftStep = host.wafers.stampsFor(timeLimits)
  const atMost = limited ? timeLimits[0].atMost - 0 : 0
  const otherLimits = timeLimits.length > 1
  const promised = lifo ? input.arrivesFrom() - 0 : Infinity
  const givesRoom = input.bounded === true && !outside
  const { room: inRoom } = input
  const inRoomMask = input.roomMask | 0
  const inRoomTail = (input.roomHead + input.roomLeft) | 0
  const room = reserves ? output.room : NO_ROOM
  const roomMask = reserves ? output.roomMask | 0 : 0
  const roomHead = reserves ? output.roomHead | 0 : 0
  const places = reserves ? output.roomLeft | 0 : 0
  const most = openInfeeds(host)
  let head = input.head | 0
  let waiting = input.waiting | 0
  let stacked = input.stacked | 0
  let arriveFrom = lifo ? input.entersFrom() - 0 : Infinity
  let before = stop - 0
  let now = host.now - 0
  let taken = 0
  let takenSum = 0
  while (taken < most) {
    let tool = 0
    for (let t = 1; t < tools; t++) if (next[t] < next[tool]) tool = t
    const open = next[tool]
    let time = open > now ? open : now
    let ready = open
    if (stacked === 0) {
      if (waiting === 0) break
      ready = arrivals[head & mask]
    }
    if (ready > time) time = ready
    if (reserves) {
      const inside = insideAll + taken
      const entry = inside < keepFree ? inside : keepFree - 1
      if (entry >= places) break
      const place = room[(roomHead + entry) & roomMask]
      if (place > time) time = place
    }
    if (!(time < before && time <= arriveFrom)) break
    if (idles && time - all[finish + tool] > idleLimit) break
    // Last in, first out: those that entered before the newest lie under it.
    const enters = waiting > 0 && (!lifo || stacked === 0 || arrivals[head & mask] < time)
    const wafer = enters ? arriving[head & mask] : stack[stacked - 1]
    if (lifo && enters && waiting > 1 && arrivals[(head + 1) & mask] < time) {
      if (stacked === 0 || stacked === stack.length) break
      stack[stacked++] = wafer
      head++
      waiting--
      continue
    }
    if (limited && time - leftStep[wafer] > atMost) break
    if (otherLimits && host.isLate(wafer, time)) break
    const tail = tails[tool]
    if (tail.count > tail.mask) break
    // The infeed holds the wafer back for want of a place; all else of its books follows from when it took the last (see `closeInfeeds`).
    if (time > ready && time > open) {
      const idle = open < all[since + tool] ? all[since + tool] : open
      const came = ready < idle ? idle : ready
      heldBack[tool] += time - came
    }
    if (enters) {
      head++
      waiting--
    } else stacked--
    if (outside) birth[wafer] = time
    else if (givesRoom) inRoom[(inRoomTail + taken) & inRoomMask] = time
    const last = (tail.head + tail.count) & tail.mask
    tail.wafers[last] = wafer
    tail.exits[last] = time + transit - tail.shift
    tail.count++
    next[tool] = time + slot
    if (idles) all[finish + tool] = time + slot
    if (time + transit < before) before = time + transit
    now = time
    takenSum += time - base
    taken++
    arriveFrom = promised
  }
  input.head = head & mask
  input.waiting = waiting
  input.stacked = stacked
  if (taken === 0) return 0
  if (givesRoom) input.roomLeft += taken
  host.now = now
  host.insideAll += taken
  const { flow, counter } = host.meter
  flow[0] += taken
  flow[1] += takenSum
  counter[STARTS] += taken
  closeInfeeds(host)
  return taken
}

/** Before the loop: when each infeed is open. @returns so many may enter before a stop can strike by running time */
function openInfeeds({ fields: { all }, tools, tails, next, onBelt, heldBack, plan }: BeltHost): number {
  let most = Infinity
  for (let t = 0; t < tools; t++) {
    const opens = all[PHASE * tools + t] === IDLE
    next[t] = opens ? all[FREE * tools + t] : Infinity
    onBelt[t] = tails[t].count
    heldBack[t] = 0
    if (!opens) continue
    const wafers = all[STRIKING * tools + t] >= 0 ? 0 : Math.floor(all[LEFT * tools + t] / plan.slot)
    if (wafers < most) most = wafers
  }
  return most
}

/** After the loop: the books of each infeed, and what other loops look at. */
function closeInfeeds(host: BeltHost): void {
  const { tools, tails, next, onBelt, heldBack } = host
  const { all } = host.fields
  const { slot } = host.plan
  const { state: books } = host.meter
  for (let t = 0; t < tools; t++) {
    const entered = tails[t].count - onBelt[t]
    if (entered === 0) continue
    const free = next[t]
    const last = free - slot
    const since = all[SINCE * tools + t]
    // The rest of the slot before, then that of each but the last, which goes on.
    const worked = Math.max(0, all[FREE * tools + t] - since) + (entered - 1) * slot
    books[t * STATES + PRODUCTIVE] += worked
    books[t * STATES + STARVED] += last - since - worked - heldBack[t]
    books[t * STATES + BLOCKED] += heldBack[t]
    all[SINCE * tools + t] = last
    all[LEFT * tools + t] -= entered * slot
    all[FREE * tools + t] = all[FINISH * tools + t] = all[IDLE_FROM * tools + t] = free
    all[WORK * tools + t] = slot
    all[STATE * tools + t] = PRODUCTIVE
    all[AT * tools + t] = Math.min(all[CALENDAR * tools + t], Math.max(free, all[WHEN_EMPTY * tools + t]))
  }
}

/**
 * Wafers reach the end to which nothing happens and which have their place. It is long
 * because it holds everything it touches in locals. On `| 0` and `- 0` see DEVELOPERS.md.
 *
 * @param output bounded or not, but no direct hand-over
 * @param end up to, not including, this tick: no block ends, no stop can strike
 * @returns wafers that have left
 */
export function handOn(host: BeltHost, output: Channel, end: number): number {
  const { tails, next, onBelt, treatment } = host
  const treats = treatment !== undefined
  const tools = host.tools | 0
  const { all } = host.fields
  const quiet = QUIET * tools
  const { room, ready, wafer: departures } = output
  const bounded = output.bounded === true
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const mask = output.mask | 0
  const delay = output.delay - 0
  const { flow, counter } = host.meter
  const base = host.meter.base - 0
  const last = (output.head + output.waiting) | 0
  // Places that are recorded, or that the ring of an unbounded output still has.
  const places = bounded ? output.roomLeft | 0 : (mask + 1 - output.waiting) | 0
  const most = treats ? Math.min(places, LEFT_BY.length) : places
  let before = end - 0
  for (let t = 0; t < tools; t++) {
    next[t] = tails[t].nextExit()
    onBelt[t] = tails[t].count
    // Up to the first wafer to which something happens.
    const plain = all[quiet + t] - 1
    if (plain < onBelt[t]) before = Math.min(before, tails[t].exitOf(plain))
  }
  let out = 0
  let putSum = 0
  for (; out < most; out++) {
    let tool = 0
    for (let t = 1; t < tools; t++) if (next[t] < next[tool]) tool = t
    const time = next[tool]
    if (!(time < before)) break
    if (bounded && room[(roomHead + out) & roomMask] > time) break
    const tail = tails[tool]
    const wafer = tail.wafers[tail.head]
    tail.head = (tail.head + 1) & tail.mask
    tail.count--
    next[tool] = tail.count > 0 ? tail.exits[tail.head] + tail.shift : Infinity
    if (treats) LEFT_BY[out] = tool
    departures[(last + out) & mask] = wafer
    ready[(last + out) & mask] = time + delay
    putSum += time - base
  }
  if (out === 0) return 0
  for (let t = 0; t < tools; t++) all[quiet + t] -= onBelt[t] - tails[t].count
  if (treats) treatByBelt(treatment, tools, departures, mask, last, out)
  if (host.stamp >= 0) output.stamp(host.wafers.stamps[host.stamp], last, out)
  output.waiting += out
  if (bounded) {
    output.roomHead = (roomHead + out) & roomMask
    output.roomLeft -= out
  }
  flow[2] += out
  flow[3] += putSum
  host.insideAll -= out
  counter[IDEAL_TIME] += out * host.plan.slot
  return out
}

/** What the step does to the wafers that have left, belt by belt: outside the loop, where calls would cost more than they. No stop waits, and nothing was held. */
function treatByBelt(
  treatment: Treatment,
  tools: number,
  departures: Int32Array,
  mask: number,
  from: number,
  count: number,
): void {
  for (let t = 0; t < tools; t++) {
    let wafers = 0
    for (let w = 0; w < count; w++) if (LEFT_BY[w] === t) OF_BELT[wafers++] = departures[(from + w) & mask]
    treatment.applyAll(t, OF_BELT, -1, 0, wafers, 0, 0)
  }
}
