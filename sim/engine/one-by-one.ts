import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Outcomes from './outcome.ts'
import * as Phases from './phases.ts'
import type { SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { PASSES } = Outcomes
const { IDLE, PLAIN } = Phases
const { AT, CALENDAR, FINISH, FIXED, HOLDS, IDLE_FROM, LEFT, PHASE } = Fields
const { QUIET, RESTS, SINCE, STANDS, STRIKING, WORK } = Fields

/**
 * Wafers go through an idle tool one after the other: each is taken, worked on, judged and
 * handed on, as long as nothing else happens and its place is recorded. What `solo` does in
 * two or three acts of a wafer, each with a look at what may come first, is one round here.
 * It holds everything it touches in locals. On `| 0` and `- 0` see DEVELOPERS.md.
 *
 * @param output a buffer
 * @param stop acts up to, not including, this tick (no block end before it)
 * @returns acts done; the tool is idle then, as it was before, unless something has happened to a wafer
 */
export function oneByOne(host: SoloHost, input: Channel, output: Channel, stop: number): number {
  const { all } = host.fields
  const work = all[FIXED]
  if (!(all[PHASE] === IDLE && all[STRIKING] < 0) || host.stopsWaiting > 0) return 0
  const { treatment, stamp } = host
  const idleLimit = host.idleLimit - 0
  const { timeLimits } = host.plan
  const { ready, wafer: arrivals, outside, lifo } = input
  const mask = input.mask | 0
  const head = input.head | 0
  const { bounded, room, wafer: departures, ready: departing } = output
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const outMask = output.mask | 0
  const delay = output.delay - 0
  const stamps = stamp >= 0 ? host.wafers.stamps[stamp] : undefined
  const { birth } = host.wafers
  const { flow, counter, state } = host.meter
  const base = host.meter.base - 0
  const limit = stop - 0
  const late = timeLimits.length > 0
  const rests = all[RESTS]
  const stands = all[STANDS]
  const before = Math.min(limit, all[CALENDAR])
  const arriveFrom = lifo ? input.arrivesFrom() : Infinity
  const givesRoom = input.bounded && !outside
  const { room: inRoom } = input
  const inRoomMask = input.roomMask | 0
  const inRoomTail = (input.roomHead + input.roomLeft) | 0
  const tail = (output.head + output.waiting) | 0
  const places = bounded ? output.roomLeft : outMask + 1 - output.waiting
  const most = (lifo ? places : Math.min(places, input.waiting)) | 0
  let now = host.now - 0
  let left = all[LEFT]
  let quiet = all[QUIET]
  let finish = all[FINISH]
  let since = all[SINCE]
  let starved = 0
  let blocked = 0
  let takenSum = 0
  let putSum = 0
  let done = 0
  let wafer = 0
  // What becomes of the last wafer, if more happens to it than that it is handed on.
  let fate = -1
  while (done < most) {
    let came = now
    if (!lifo) came = ready[(head + done) & mask]
    else if (input.stacked === 0) {
      if (input.waiting === 0) break
      came = ready[input.head]
    }
    const time = came > now ? came : now
    const end = time + work
    if (!(end < before && time < rests && work <= left && time <= arriveFrom)) break
    let place = end
    if (bounded) {
      const free = room[(roomHead + done) & roomMask]
      if (free > end) {
        if (!(free < limit && free <= stands)) break
        place = free
      }
    }
    if (time - finish > idleLimit) break
    if (late && host.isLate(lifo ? input.nextAt(time) : arrivals[(head + done) & mask], time)) break
    if (lifo) wafer = host.takeFrom(input, time)
    else {
      wafer = arrivals[(head + done) & mask]
      if (outside) birth[wafer] = time
      else if (givesRoom) inRoom[(inRoomTail + done) & inRoomMask] = time
    }
    left -= work
    starved += time - since
    takenSum += time - base
    finish = end
    if (--quiet <= 0) {
      all[QUIET] = quiet
      all[LEFT] = left
      fate = host.judge(wafer, end)
      quiet = all[QUIET]
      // It is lost or done again, or a stop has become due: the general loop goes on from here.
      if (fate !== PASSES || all[STRIKING] >= 0 || host.stopsWaiting > 0) break
      fate = -1
    }
    treatment?.apply(0, wafer, end, place - end)
    if (stamps) stamps[wafer] = place
    departures[(tail + done) & outMask] = wafer
    departing[(tail + done) & outMask] = place + delay
    blocked += place - end
    putSum += place - base
    now = since = place
    done++
  }
  const taken = fate < 0 ? done : done + 1
  if (taken === 0) return 0
  if (!lifo) {
    input.head = (head + taken) & mask
    input.waiting -= taken
    if (givesRoom) input.roomLeft += taken
  }
  output.waiting += done
  if (bounded) {
    output.roomHead = (roomHead + done) & roomMask
    output.roomLeft -= done
  }
  flow[0] += taken
  flow[1] += takenSum
  flow[2] += done
  flow[3] += putSum
  counter[STARTS] += taken
  counter[IDEAL_TIME] += taken * work
  state[STARVED] += starved
  state[PRODUCTIVE] += taken * work
  state[BLOCKED] += blocked
  all[FINISH] = finish
  all[WORK] = work
  all[LEFT] = left
  all[QUIET] = quiet
  if (done > 0) all[IDLE_FROM] = now
  if (fate < 0) {
    host.now = all[SINCE] = now
    all[AT] = rests > now ? rests : now
  } else {
    host.now = all[SINCE] = all[AT] = finish
    all[PHASE] = PLAIN
    all[HOLDS] = wafer
    host.idle.takeFirst()
    host.goOnAfter(fate, 0, finish)
  }
  return 2 * taken
}
