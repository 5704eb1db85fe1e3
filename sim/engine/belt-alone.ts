import type { BeltHost } from './belt-runs.ts'
import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { IDLE } = Phases
const { AT, CALENDAR, FINISH, FREE, IDLE_FROM, LEFT, PHASE } = Fields
const { QUIET, SINCE, STATE, STRIKING, WHEN_EMPTY, WORK } = Fields

/** More than any loop does. */
const MANY = 2 ** 30

/**
 * The fast loop of the only belt of a station while it runs: what `handOn` and `takeIn` do by
 * turns for several, with everything it touches in locals once. Wafers reach the end, as far
 * as no stop can strike; then wafers enter, before the next one reaches it; and so on.
 * On `| 0`, `- 0` and `=== true`, and why no round calls anybody, see DEVELOPERS.md.
 *
 * @param output a buffer, where places are reserved for all that are inside or for none
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @param runsUntil the belt runs, and its next event does not come, before this tick
 * @param entersUntil no stop comes by calendar, and what is known of people holds, before this tick
 * @returns acts done
 */
export function runAlone(
  host: BeltHost,
  input: Channel,
  output: Channel,
  stop: number,
  runsUntil: number,
  entersUntil: number,
): number {
  // First: the columns of the table may become longer ones.
  input.supply(host.wafers)
  const { treatment } = host
  const idleLimit = host.idleLimit - 0
  const insideAll = host.insideAll | 0
  const slot = host.plan.slot - 0
  const transit = host.plan.transit - 0
  const { all } = host.fields
  const tail = host.tails[0]
  const { wafers, exits } = tail
  const tailMask = tail.mask | 0
  const shift = tail.shift - 0
  const base = host.meter.base - 0
  const { timeLimits } = host.plan
  const limited = timeLimits.length > 0
  const leftStep = host.wafers.stampsFor(timeLimits)
  const atMost = limited ? timeLimits[0].atMost - 0 : 0
  const otherLimits = timeLimits.length > 1
  const { ready: arrivals, wafer: arriving, stack } = input
  const outside = input.outside === true
  const lifo = input.lifo === true
  const mask = input.mask | 0
  const idles = idleLimit < Infinity
  const arriveFrom = lifo ? input.arrivesFrom() : Infinity
  const givesRoom = input.bounded === true && !outside
  const { room: inRoom } = input
  const inRoomMask = input.roomMask | 0
  // Places that these takes free may have been foretold.
  const recorded = input.foretold.recorded | 0
  const inRoomTail = (input.roomHead + input.roomLeft - recorded) | 0
  const { room, ready: departing, wafer: departures } = output
  const bounded = output.bounded === true
  const reserves = host.reserves === true
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const delay = output.delay - 0
  const outMask = output.mask | 0
  const outTail = (output.head + output.waiting) | 0
  // Places that are recorded, or that the ring of an unbounded output still has.
  const mayLeave = bounded ? output.roomLeft | 0 : (outMask + 1 - output.waiting) | 0
  const mayEnter = reserves ? (output.roomLeft - insideAll) | 0 : MANY
  const { birth } = host.wafers
  const calendar = all[CALENDAR]
  const whenEmpty = all[WHEN_EMPTY]
  const striking = all[STRIKING] >= 0
  const opens = all[PHASE] === IDLE && !striking
  const enters = Math.min(entersUntil, calendar - slot)
  const before = stop - 0
  let now = host.now - 0
  let free = all[FREE]
  let finish = all[FINISH]
  let left = all[LEFT]
  let since = all[SINCE]
  let quiet = all[QUIET]
  let inHead = input.head | 0
  let waiting = input.waiting | 0
  let stacked = input.stacked | 0
  let head = tail.head | 0
  let count = tail.count | 0
  let runs = runsUntil - 0
  let starved = 0
  let blocked = 0
  let idled = 0
  let taken = 0
  let takenSum = 0
  let out = 0
  let putSum = 0
  for (;;) {
    // Wafers reach the end.
    let exit = count > 0 ? exits[head] + shift : Infinity
    let end = striking ? 0 : Math.min(before, runs, now + left)
    if (idles) end = Math.min(end, Math.max(now, finish + idleLimit))
    while (exit < end && quiet > 1 && out < mayLeave) {
      if (bounded && room[(roomHead + out) & roomMask] > exit) break
      quiet--
      departures[(outTail + out) & outMask] = wafers[head]
      departing[(outTail + out) & outMask] = exit + delay
      putSum += exit - base
      out++
      head = (head + 1) & tailMask
      count--
      exit = count > 0 ? exits[head] + shift : Infinity
    }
    if (!opens) break
    // Wafers enter.
    const entered = taken
    while (taken < mayEnter && slot <= left && count <= tailMask) {
      let time = free > now ? free : now
      let ready = free
      if (stacked === 0) {
        if (waiting === 0) break
        ready = arrivals[inHead & mask]
      }
      if (ready > time) time = ready
      if (reserves) {
        const place = room[(roomHead + insideAll + taken) & roomMask]
        if (place > time) time = place
      }
      if (!(time < enters && time < exit && time <= arriveFrom)) break
      if (idles && time - finish > idleLimit) break
      // Last in, first out: those that entered before the newest lie under it.
      const comes = waiting > 0 && (!lifo || stacked === 0 || arrivals[inHead & mask] < time)
      const wafer = comes ? arriving[inHead & mask] : stack[stacked - 1]
      if (lifo && comes && waiting > 1 && arrivals[(inHead + 1) & mask] < time) {
        if (stacked === 0 || stacked === stack.length) break
        stack[stacked++] = wafer
        inHead++
        waiting--
        continue
      }
      if (limited && time - leftStep[wafer] > atMost) break
      if (otherLimits && host.isLate(wafer, time)) break
      // The books of the infeed: after its slot starved, then holding the wafer back for want of a place.
      const idle = free < since ? since : free
      if (time > idle) {
        const came = ready < idle ? idle : ready
        idled += time - idle
        starved += came - idle
        blocked += time - came
      }
      if (comes) {
        inHead++
        waiting--
      } else stacked--
      if (outside) birth[wafer] = time
      else if (givesRoom) inRoom[(inRoomTail + taken) & inRoomMask] = time
      const last = (head + count) & tailMask
      wafers[last] = wafer
      exits[last] = time + transit - shift
      if (count === 0) exit = time + transit
      count++
      left -= slot
      free = finish = time + slot
      now = time
      takenSum += time - base
      taken++
    }
    if (taken === entered) break
    runs = Math.min(calendar, Math.max(free, whenEmpty))
  }
  input.head = inHead & mask
  input.waiting = waiting
  input.stacked = stacked
  if (taken === 0 && out === 0) return 0
  const { flow, counter, state: books } = host.meter
  tail.head = head
  tail.count = count
  host.insideAll = insideAll + taken - out
  if (out > 0) {
    all[QUIET] = quiet
    output.waiting += out
    if (bounded) {
      output.roomHead = (roomHead + out) & roomMask
      output.roomLeft -= out
    }
    flow[2] += out
    flow[3] += putSum
    counter[IDEAL_TIME] += out * slot
    treatment?.applyAll(0, departures, outMask, outTail, out, now, 0)
    if (host.stamp >= 0) output.stamp(host.wafers.stamps[host.stamp], outTail, out)
  }
  if (taken === 0) return out
  if (givesRoom) {
    const foreseen = taken < recorded ? taken : recorded
    input.roomLeft += taken - foreseen
    input.foretold.recorded = recorded - foreseen
  }
  host.now = now
  flow[0] += taken
  flow[1] += takenSum
  counter[STARTS] += taken
  books[STARVED] += starved
  books[BLOCKED] += blocked
  books[PRODUCTIVE] += now - since - idled
  since = now
  all[SINCE] = since
  all[LEFT] = left
  all[FREE] = all[FINISH] = all[IDLE_FROM] = free
  all[WORK] = slot
  all[STATE] = PRODUCTIVE
  all[AT] = runs
  return taken + out
}
