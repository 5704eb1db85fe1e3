import type { BeltHost } from './belt-runs.ts'
import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { IDLE } = Phases
const { AT, CALENDAR, FINISH, FREE, IDLE_FROM, LEFT, PHASE } = Fields
const { QUIET, SINCE, STATE, STRIKING, WHEN_EMPTY, WORK } = Fields

/**
 * The fast loop of the only belt of a station while it runs: what `handOn` and `takeIn` do by
 * turns for several, with everything it touches in locals once. Wafers reach the end, as far
 * as no stop can strike; then wafers enter, before the next one reaches it; and so on.
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
  const { reserves, idleLimit, insideAll, treatment } = host
  const { slot, transit, timeLimits } = host.plan
  const { all } = host.fields
  const tail = host.tails[0]
  const { mask: tailMask, shift, wafers, exits } = tail
  const { base, flow, counter, state: books } = host.meter
  const { birth } = host.wafers
  const stamps = host.stamp >= 0 ? host.wafers.stamps[host.stamp] : undefined
  const { outside, endless, lifo, mask, ready: arrivals, wafer: waiting } = input
  const plain = !endless && !lifo
  const limited = idleLimit < Infinity
  const late = timeLimits.length > 0
  const arriveFrom = lifo ? input.arrivesFrom() : Infinity
  const givesRoom = input.bounded && !outside
  const {
    room,
    roomMask,
    roomHead,
    bounded,
    delay,
    ready: departing,
    wafer: departures,
    mask: outMask,
  } = output
  const outTail = output.head + output.waiting
  // Places that are recorded, or that the ring of an unbounded output still has.
  const mayLeave = bounded ? output.roomLeft : outMask + 1 - output.waiting
  const mayEnter = reserves ? output.roomLeft - insideAll : Infinity
  const calendar = all[CALENDAR]
  const whenEmpty = all[WHEN_EMPTY]
  const striking = all[STRIKING] >= 0
  const opens = all[PHASE] === IDLE && !striking
  const enters = Math.min(entersUntil, calendar - slot)
  let { now } = host
  let free = all[FREE]
  let finish = all[FINISH]
  let left = all[LEFT]
  let since = all[SINCE]
  let quiet = all[QUIET]
  let { head, count } = tail
  let runs = runsUntil
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
    let end = striking ? 0 : Math.min(stop, runs, now + left)
    if (limited) end = Math.min(end, Math.max(now, finish + idleLimit))
    while (exit < end && quiet > 1 && out < mayLeave) {
      if (bounded && room[(roomHead + out) & roomMask] > exit) break
      quiet--
      const wafer = wafers[head]
      head = (head + 1) & tailMask
      count--
      treatment?.apply(0, wafer, exit, 0)
      if (stamps) stamps[wafer] = exit
      departures[(outTail + out) & outMask] = wafer
      departing[(outTail + out) & outMask] = exit + delay
      putSum += exit - base
      out++
      exit = count > 0 ? exits[head] + shift : Infinity
    }
    if (!opens) break
    // Wafers enter.
    const before = taken
    while (taken < mayEnter && slot <= left && count <= tailMask) {
      let time = free > now ? free : now
      let ready = free
      if (plain) {
        if (input.waiting === 0) break
        ready = arrivals[input.head]
      } else if (input.stacked === 0 && !endless) {
        if (input.waiting === 0) break
        ready = arrivals[input.head]
      }
      if (ready > time) time = ready
      if (reserves) {
        const place = room[(roomHead + insideAll + taken) & roomMask]
        if (place > time) time = place
      }
      if (!(time < enters && time < exit && time <= arriveFrom)) break
      if (limited && time - finish > idleLimit) break
      if (late && host.isLate(input.nextAt(time), time)) break
      // The books of the infeed: after its slot starved, then holding the wafer back for want of a place.
      const idle = free < since ? since : free
      if (time > idle) {
        const came = ready < idle ? idle : ready
        idled += time - idle
        starved += came - idle
        blocked += time - came
      }
      let wafer = 0
      if (plain) {
        wafer = waiting[input.head]
        input.head = (input.head + 1) & mask
        input.waiting--
        if (outside) birth[wafer] = time
        else if (givesRoom) input.addRoom(time)
      } else wafer = host.takeFrom(input, time)
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
    if (taken === before) break
    runs = Math.min(calendar, Math.max(free, whenEmpty))
  }
  if (taken === 0 && out === 0) return 0
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
  }
  if (taken === 0) return out
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
