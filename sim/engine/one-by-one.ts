import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Outcomes from './outcome.ts'
import * as Phases from './phases.ts'
import { closeRounds, closeWork } from './rounds.ts'
import { changeQueues, type SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { PASSES } = Outcomes
const { PRODUCTIVE, STARVED } = Books
const { IDLE, PLAIN } = Phases
const { AT, CALENDAR, FINISH, FIXED, HOLDS, LEFT, PHASE } = Fields
const { QUIET, RESTS, STANDS, STATE, STRIKING } = Fields

/**
 * Wafers go through the tool one after the other: each is taken, worked on, judged and
 * handed on, as long as nothing else happens and its place is recorded. What `solo` does in
 * two or three acts of a wafer, each with a look at what may come first, is one round here.
 * A wafer in the tool goes on first; the last stays in it where no place is recorded. No stop
 * waits or is about to strike before.
 * It holds everything it touches in locals, and calls nobody within a round: on that, `| 0`,
 * `- 0` and `=== true` see DEVELOPERS.md.
 *
 * @param output a buffer
 * @param stop acts up to, not including, this tick (no block end before it)
 * @returns acts done; the tool is idle then, or at plain work, unless something has happened to a wafer
 */
export function oneByOne(host: SoloHost, input: Channel, output: Channel, stop: number): number {
  const { all } = host.fields
  const work = all[FIXED]
  const phase = all[PHASE]
  if (!(phase === IDLE || phase === PLAIN)) return 0
  const idleLimit = host.idleLimit - 0
  const { timeLimits } = host.plan
  const limited = timeLimits.length > 0
  const leftStep = host.wafers.stampsFor(timeLimits)
  const atMost = limited ? timeLimits[0].atMost - 0 : 0
  const otherLimits = timeLimits.length > 1
  const { ready, wafer: arrivals, stack } = input
  const outside = input.outside === true
  const lifo = input.lifo === true
  const mask = input.mask | 0
  const bounded = output.bounded === true
  const { room, wafer: departures, ready: departing } = output
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const outMask = output.mask | 0
  const delay = output.delay - 0
  const { birth } = host.wafers
  const base = host.meter.base - 0
  const limit = stop - 0
  const rests = all[RESTS]
  const stands = all[STANDS]
  const before = Math.min(limit, all[CALENDAR])
  // Last in, first out: what could come between must be known.
  const newestFrom = lifo ? input.arrivesFrom() : Infinity
  const givesRoom = input.bounded === true && !outside
  const { room: inRoom } = input
  const inRoomMask = input.roomMask | 0
  const inRoomTail = (input.roomHead + input.roomLeft) | 0
  const tail = (output.head + output.waiting) | 0
  const { foretold } = output
  const every = foretold.every - 0
  const foretoldUntil = foretold.until - 0
  const idles = foretold.idle - 0
  const waits = foretold.waits - 0
  const { places } = foretold
  const placesMask = foretold.placesMask | 0
  const firstRooms = output.roomLeft | 0
  // The wafer of which the take is foretold next.
  const next = (output.head + foretold.recorded) | 0
  const firstPlace = foretold.place | 0
  let nextTake = foretold.opens - 0
  let most = bounded ? firstRooms : (outMask + 1 - output.waiting) | 0
  const mostForetold = Math.min(bounded ? foretold.most : 0, outMask + 1 - output.waiting - most) + most
  let arriveFrom = lifo ? input.entersFrom() - 0 : Infinity
  let head = input.head | 0
  let waiting = input.waiting | 0
  let stacked = input.stacked | 0
  let now = host.now - 0
  let left = all[LEFT]
  let quiet = all[QUIET]
  let finish = all[FINISH]
  let blocked = 0
  let takenSum = 0
  let putSum = 0
  let taken = 0
  let done = 0
  // The wafer in the tool, if one is, has been taken, and its work ends at `finish`.
  const begun = phase === PLAIN
  let inside = begun
  let wafer = all[HOLDS] | 0
  let place = 0
  // What becomes of the last wafer, if more happens to it than that it is handed on.
  let fate = -1
  for (;;) {
    let judged = false
    for (;;) {
      let isPlace = true
      if (done === most) {
        isPlace = false
        if (most < mostForetold) {
          // No place is recorded: when the next will be free is foretold.
          const ready = departing[(next + most - firstRooms) & outMask]
          const behind = places[(firstPlace + most - firstRooms) & placesMask]
          const take = Math.max(ready, nextTake, behind)
          if (take < foretoldUntil && take - nextTake <= idles && take - ready <= waits) {
            room[(roomHead + most) & roomMask] = take
            nextTake = take + every
            most++
            isPlace = true
          }
        }
      }
      if (!inside) {
        let came = now
        if (stacked === 0) {
          if (waiting === 0) break
          came = ready[head & mask]
        }
        const time = came > now ? came : now
        if (!(time + work < before && time < rests && work <= left && time <= arriveFrom)) break
        if (time - finish > idleLimit) break
        // Last in, first out: those that entered before the newest lie under it.
        const enters = waiting > 0 && (!lifo || stacked === 0 || ready[head & mask] < time)
        wafer = enters ? arrivals[head & mask] : stack[stacked - 1]
        if (lifo && enters && waiting > 1 && ready[(head + 1) & mask] < time) {
          if (stacked === stack.length) break
          stack[stacked++] = wafer
          head++
          waiting--
          continue
        }
        if (limited && time - leftStep[wafer] > atMost) break
        if (otherLimits && host.isLate(wafer, time)) break
        if (enters) {
          head++
          waiting--
        } else stacked--
        if (outside) birth[wafer] = time
        else if (givesRoom) inRoom[(inRoomTail + taken) & inRoomMask] = time
        arriveFrom = newestFrom
        left -= work
        takenSum += time - base
        finish = time + work
        taken++
        inside = true
      }
      if (!isPlace || !(finish < limit)) break
      place = finish
      if (bounded) {
        const free = room[(roomHead + done) & roomMask]
        if (free > finish) {
          if (!(free < limit && free <= stands)) break
          place = free
        }
      }
      inside = false
      judged = --quiet <= 0
      if (judged) break
      departures[(tail + done) & outMask] = wafer
      departing[(tail + done) & outMask] = place + delay
      blocked += place - finish
      putSum += place - base
      now = place
      done++
    }
    if (!judged) break
    all[QUIET] = quiet
    all[LEFT] = left
    fate = host.judge(wafer, finish)
    quiet = all[QUIET]
    // It is lost or done again, or a stop has become due: the general loop goes on from here.
    if (fate !== PASSES || all[STRIKING] >= 0 || host.stopsWaiting > 0) break
    fate = -1
    departures[(tail + done) & outMask] = wafer
    departing[(tail + done) & outMask] = place + delay
    blocked += place - finish
    putSum += place - base
    now = place
    done++
  }
  input.head = head & mask
  input.waiting = waiting
  input.stacked = stacked
  const ended = fate < 0 ? done : done + 1
  if (taken + ended === 0) return 0
  if (givesRoom) input.roomLeft += taken
  if (begun && ended > 0) closeWork(host)
  closeRounds(host, output, {
    taken,
    done,
    works: begun && ended > 0 ? ended - 1 : ended,
    finish,
    // Of the wafer inside the books say no more than that it was taken.
    until: inside ? finish - work : fate < 0 ? now : finish,
    last: now,
    blocked,
    takenSum,
    putSum,
    foreseen: bounded ? most - firstRooms : 0,
    nextTake,
  })
  all[LEFT] = left
  all[QUIET] = quiet
  const holds = inside || fate >= 0
  all[PHASE] = holds ? PLAIN : IDLE
  all[STATE] = inside ? PRODUCTIVE : STARVED
  all[HOLDS] = holds ? wafer : -1
  all[AT] = holds ? finish : Math.max(now, rests)
  changeQueues(host, phase, all[PHASE])
  if (fate >= 0) host.goOnAfter(fate, 0, finish)
  return taken + ended
}
