import type { HaltHost } from './belt-halts.ts'
import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import { closeRounds } from './rounds.ts'
import type { SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { FULL, IDLE } = Phases
const { AT, CALENDAR, FINISH, FIXED, FREE, IDLE_FROM, LEFT, PHASE, QUIET, RESTS } = Fields
const { SINCE, STANDS, STATE, STILL, STRIKING, WHEN_EMPTY, WORK } = Fields

/**
 * The only belt of a station that halts while its first wafer is not asked for, and the only
 * tool of the next, which asks when it is idle, in one loop. A wafer enters the belt, reaches the
 * end and is handed over as in `haltAndGo`, and goes through the tool in one round as in
 * `oneByOne`: the tool is idle before and after, and when it asks is known. On `| 0`, `- 0` and
 * why no round calls anybody, see DEVELOPERS.md.
 *
 * @param between what lies between, where the tool asks; no wafer waits in it
 * @param output behind the tool: a buffer
 * @param beltBefore acts of the belt up to, not including, this tick: no block ends, no stop comes but by running time
 * @param toolBefore the same of the tool
 * @returns acts done by the belt
 */
export function handStraight(
  belt: HaltHost,
  tool: SoloHost,
  input: Channel,
  between: Channel,
  output: Channel,
  beltBefore: number,
  toolBefore: number,
): number {
  const { all } = belt.fields
  const { all: its } = tool.fields
  if (all[PHASE] !== FULL && all[PHASE] !== IDLE) return 0
  const slot = belt.plan.slot - 0
  const transit = belt.plan.transit - 0
  const tolerance = belt.plan.tolerance - 0
  const end = beltBefore - 0
  const tail = belt.tails[0]
  const { wafers: onBelt, exits } = tail
  const tailMask = tail.mask | 0
  const { timeLimits } = belt.plan
  const limited = timeLimits.length > 0
  const leftStep = belt.wafers.stampsFor(timeLimits)
  const atMost = limited ? timeLimits[0].atMost - 0 : 0
  const stamps = belt.stamp >= 0 ? belt.wafers.stamps[belt.stamp] : undefined
  const { ready, wafer: arrivals, stack } = input
  const lifo = input.lifo === true
  const mask = input.mask | 0
  const promised = input.arrivesFrom() - 0
  const newestFrom = lifo ? promised : Infinity
  const givesRoom = input.bounded === true && !input.outside
  const { room: inRoom } = input
  const inRoomMask = input.roomMask | 0
  const inRoomTail = (input.roomHead + input.roomLeft) | 0
  const calendar = all[CALENDAR]
  // So many may enter before a stop can strike it by running time, and reach the end before something happens to one.
  const mayEnter = all[STRIKING] >= 0 ? 0 : Math.floor(all[LEFT] / slot)
  const mayEnd = all[QUIET] - 1
  const beltBase = belt.meter.base - 0
  const work = its[FIXED]
  const rests = its[RESTS]
  const stands = its[STANDS]
  const limit = toolBefore - 0
  const workBefore = Math.min(limit, its[CALENDAR])
  const idleLimit = tool.idleLimit - 0
  // So many wafers before a stop can strike it by running time, or something happens to one.
  const mayDo = Math.min(Math.floor(its[LEFT] / work), its[QUIET] - 1)
  const toolBase = tool.meter.base - 0
  const { foretold, room, ready: departing, wafer: departures } = output
  const bounded = output.bounded === true
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const outMask = output.mask | 0
  const delay = output.delay - 0
  const outTail = (output.head + output.waiting) | 0
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
  let inHead = input.head | 0
  let waiting = input.waiting | 0
  let stacked = input.stacked | 0
  let head = tail.head | 0
  let count = tail.count | 0
  let shift = tail.shift - 0
  let now = belt.now - 0
  let runs = all[PHASE] === IDLE
  let free = all[FREE]
  let since = all[SINCE]
  let finish = all[FINISH]
  let still = all[STILL]
  let held = belt.heldWork[0] - 0
  let atEnd = belt.atEnd[0] | 0
  let starved = 0
  let blocked = 0
  let taken = 0
  let takenSum = 0
  let put = 0
  let putSum = 0
  let ended = 0
  let acts = 0
  // The tool asks from this tick on, up to another.
  let asked = between.room[between.roomHead]
  let until = between.voidFrom[between.roomHead]
  let toolFinish = its[FINISH]
  let toolBlocked = 0
  let toolPutSum = 0
  for (;;) {
    let time = 0
    let enters = false
    let came = 0
    if (runs) {
      const exit = count > 0 ? exits[head] + shift : Infinity
      const comes = stacked > 0 || waiting > 0
      came = stacked > 0 ? free : waiting > 0 ? ready[inHead & mask] : Infinity
      let entry = free > now ? free : now
      if (came > entry) entry = came
      enters = entry < exit
      time = enters ? entry : exit
      if (!(time < end)) break
      if (enters) {
        if (taken >= mayEnter || time + slot >= calendar || time > arriveFrom || count > tailMask) break
      } else if (ended >= mayEnd || (!comes && !(exit <= promised))) break
    } else {
      time = asked > now ? asked : now
      if (!(time < end) || time - still > tolerance) break
    }
    const goes = !enters && (!runs || asked <= time)
    let place = 0
    if (goes) {
      // The whole way through the tool, or nothing of it.
      place = time + work
      if (!(time < until && place < workBefore && put < mayDo) || time - toolFinish > idleLimit) break
      if (put === most) {
        if (most >= mostForetold) break
        // No place is recorded: when the next will be free is foretold.
        const comes = departing[(next + most - firstRooms) & outMask]
        const behind = places[(firstPlace + most - firstRooms) & placesMask]
        const take = Math.max(comes, nextTake, behind)
        if (!(take < foretoldUntil && take - nextTake <= idles && take - comes <= waits)) break
        room[(roomHead + most) & roomMask] = take
        nextTake = take + every
        most++
      }
      if (bounded) {
        const freed = room[(roomHead + put) & roomMask]
        if (freed > place) {
          if (!(freed < limit && freed <= stands)) break
          place = freed
        }
      }
    }
    if (enters) {
      // Last in, first out: those that entered before the newest lie under it.
      const fresh = waiting > 0 && (!lifo || stacked === 0 || ready[inHead & mask] < time)
      const wafer = fresh ? arrivals[inHead & mask] : stack[stacked - 1]
      if (lifo && fresh && waiting > 1 && ready[(inHead + 1) & mask] < time) {
        if (stacked === 0 || stacked === stack.length) break
        stack[stacked++] = wafer
        inHead++
        waiting--
        continue
      }
      if (limited && time - leftStep[wafer] > atMost) break
      if (fresh) {
        inHead++
        waiting--
      } else stacked--
      if (givesRoom) inRoom[(inRoomTail + taken) & inRoomMask] = time
      const last = (head + count) & tailMask
      onBelt[last] = wafer
      exits[last] = time + transit - shift
      count++
      taken++
      takenSum += time - beltBase
      arriveFrom = newestFrom
    }
    let wafer = atEnd
    if (!runs) {
      // The belt runs again as soon as its first wafer is asked for.
      shift += time - still
      still = Infinity
      blocked += time - since
      since = time
      free = time + held
      if (held > 0) finish = free
      atEnd = -1
      runs = true
    } else {
      if (!enters) {
        ended++
        wafer = onBelt[head]
        head = (head + 1) & tailMask
        count--
      }
      if (!goes) {
        // The books of the infeed: its slot, starved, then holding a wafer back.
        let idle = free > since ? free : since
        if (idle > time) idle = time
        if (came < idle) came = idle
        if (came > time) came = time
        starved += came - idle
        blocked += time - came
        since = now = time
        acts++
        if (enters) free = finish = time + slot
        else {
          atEnd = wafer
          still = time
          held = free > time ? free - time : 0
          runs = false
        }
        continue
      }
    }
    // Handed over, done, and handed on.
    if (stamps) stamps[wafer] = time
    now = time
    acts++
    putSum += time - beltBase
    toolFinish = time + work
    toolBlocked += place - toolFinish
    departures[(outTail + put) & outMask] = wafer
    departing[(outTail + put) & outMask] = place + delay
    toolPutSum += place - toolBase
    asked = place
    until = rests > place ? rests : place
    put++
  }
  input.head = inHead & mask
  input.waiting = waiting
  input.stacked = stacked
  if (acts === 0) return 0
  if (givesRoom) input.roomLeft += taken
  tail.head = head
  tail.count = count
  tail.shift = shift
  belt.now = now
  belt.insideAll += taken - put
  belt.heldWork[0] = held
  belt.atEnd[0] = atEnd
  if (runs && all[PHASE] === FULL) belt.full.takeFirst()
  else if (!runs && all[PHASE] === IDLE) belt.full.add(0)
  all[PHASE] = runs ? IDLE : FULL
  all[STATE] = runs ? PRODUCTIVE : BLOCKED
  const opens = Math.max(free, now, all[WHEN_EMPTY])
  all[AT] = runs ? Math.min(Math.max(now, calendar), opens) : Math.max(now, all[STANDS])
  all[FREE] = all[IDLE_FROM] = free
  const passed = since - all[SINCE]
  all[SINCE] = since
  all[FINISH] = finish
  all[LEFT] -= taken * slot
  all[STILL] = still
  all[QUIET] -= ended
  if (taken > 0) all[WORK] = slot
  if (put > 0) {
    belt.signals.actedWithin(tool.position)
    closeRounds(tool, output, {
      taken: put,
      done: put,
      works: put,
      finish: toolFinish,
      until: asked,
      last: asked,
      blocked: toolBlocked,
      takenSum: putSum + put * (beltBase - toolBase),
      putSum: toolPutSum,
      foreseen: bounded ? most - firstRooms : 0,
      nextTake,
    })
    between.askAfter(put, asked, until)
    its[AT] = until
    its[LEFT] -= put * work
    its[QUIET] -= put
  }
  belt.meter.countThrough(taken, takenSum, put, putSum)
  const { counter, state } = belt.meter
  counter[STARTS] += taken
  counter[IDEAL_TIME] += ended * slot
  state[PRODUCTIVE] += passed - starved - blocked
  state[STARVED] += starved
  state[BLOCKED] += blocked
  return acts
}
