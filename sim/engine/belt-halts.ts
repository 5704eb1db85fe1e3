import type { BeltHost } from './belt-runs.ts'
import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { Signals } from './signals.ts'
import * as Fields from './tool-fields.ts'
import type { ToolQueue } from './tool-queue.ts'

const { BLOCKED, IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { FULL, IDLE } = Phases
const { AT, CALENDAR, FINISH, FREE, IDLE_FROM, LEFT, PHASE, QUIET } = Fields
const { SINCE, STANDS, STATE, STILL, STRIKING, WHEN_EMPTY, WORK } = Fields

/** What the loop below reads and writes of a belt station, besides what those of belts that run do. */
export interface HaltHost extends BeltHost {
  /** The wafer at the end of a belt that halts, -1: none; what is left of the slot in which it came to stand. */
  readonly atEnd: Int32Array
  readonly heldWork: Float64Array
  readonly full: ToolQueue
  readonly signals: Signals
  /** Has the station behind act, to make room. @returns whether it has */
  press(): boolean
}

/**
 * The fast loop of the only belt of a station that halts while its first wafer finds no
 * place: wafers enter, reach the end, halt the belt and let it run again, one act after
 * another in their order, as long as nothing else can happen and what matters is
 * recorded. It is long because it holds everything it touches in locals. On `| 0` and `- 0` see DEVELOPERS.md.
 *
 * @param before acts up to, not including, this tick: no block ends, no stop comes but by running time
 * @returns acts done
 */
export function haltAndGo(host: HaltHost, input: Channel, output: Channel, before: number): number {
  const { treatment, full, insideAll } = host
  const { timeLimits } = host.plan
  const slot = host.plan.slot - 0
  const transit = host.plan.transit - 0
  const tolerance = host.plan.tolerance - 0
  const end = before - 0
  const { all } = host.fields
  const tail = host.tails[0]
  const { counter, state: books } = host.meter
  const base = host.meter.base - 0
  const stamps = host.stamp >= 0 ? host.wafers.stamps[host.stamp] : undefined
  const calendar = all[CALENDAR]
  const arriveFrom = input.lifo ? input.arrivesFrom() : Infinity
  if (all[PHASE] !== FULL && all[PHASE] !== IDLE) return 0
  const halted = all[PHASE] === FULL
  let now = host.now - 0
  let runs = !halted
  let free = all[FREE]
  let since = all[SINCE]
  let finish = all[FINISH]
  let left = all[LEFT]
  let still = all[STILL]
  let quiet = all[QUIET]
  let held = host.heldWork[0]
  let atEnd = host.atEnd[0]
  let productive = 0
  let starved = 0
  let blocked = 0
  let taken = 0
  let takenSum = 0
  let put = 0
  let putSum = 0
  let ended = 0
  let acts = 0
  for (;;) {
    let goes = atEnd
    let time = 0
    let stands = false
    if (!runs) {
      // The belt runs again as soon as its first wafer finds a place.
      time = output.roomAt(now)
      if (time === Infinity && host.press()) time = output.roomAt(now)
      if (!(time < end) || time - still > tolerance) break
      tail.shift += time - still
      still = Infinity
      blocked += time - since
      since = time
      free = time + held
      if (held > 0) finish = free
      atEnd = -1
      runs = true
    } else {
      const exit = tail.count > 0 ? tail.exits[tail.head] + tail.shift : Infinity
      const recorded = input.stacked > 0 || input.endless
      const comes = recorded || input.waiting > 0
      const ready = recorded ? free : comes ? input.ready[input.head] : Infinity
      let entry = free > now ? free : now
      if (ready > entry) entry = ready
      const enters = entry < exit
      time = enters ? entry : exit
      if (!(time < end)) break
      if (enters) {
        if (all[STRIKING] >= 0 || slot > left || time + slot >= calendar) break
        if (time > arriveFrom || tail.count > tail.mask) break
        if (timeLimits.length > 0 && host.isLate(input.nextAt(time), time)) break
      } else {
        if (quiet <= 1 || (!comes && !(exit <= input.arrivesFrom()))) break
        let place = output.roomAt(exit)
        if (place === Infinity && host.press()) place = output.roomAt(exit)
        if (place === Infinity && !(output.takesFrom > exit)) break
        quiet--
        ended++
        goes = tail.wafers[tail.head]
        tail.head = (tail.head + 1) & tail.mask
        tail.count--
        treatment?.apply(0, goes, exit, 0)
        stands = place !== exit
      }
      if (enters || stands) {
        // The books of the infeed: its slot, starved, then holding a wafer back.
        let idle = free > since ? free : since
        if (idle > time) idle = time
        let came = ready > idle ? ready : idle
        if (came > time) came = time
        productive += idle - since
        starved += came - idle
        blocked += time - came
        since = now = time
        acts++
      }
      if (stands) {
        atEnd = goes
        still = exit
        held = free > exit ? free - exit : 0
        runs = false
        continue
      }
      if (enters) {
        left -= slot
        free = finish = time + slot
        const last = (tail.head + tail.count) & tail.mask
        tail.wafers[last] = host.takeFrom(input, time)
        tail.exits[last] = time + transit - tail.shift
        tail.count++
        taken++
        takenSum += time - base
        continue
      }
    }
    // Hand over.
    if (stamps) stamps[goes] = time
    if (output.bounded) output.useRoom(time)
    output.put(goes, time)
    put++
    putSum += time - base
    now = time
    acts++
  }
  if (acts === 0) return 0
  host.now = now
  host.insideAll = insideAll + taken - put
  host.heldWork[0] = held
  host.atEnd[0] = atEnd
  if (runs && halted) full.takeFirst()
  else if (!runs && !halted) full.add(0)
  all[PHASE] = runs ? IDLE : FULL
  all[STATE] = runs ? PRODUCTIVE : BLOCKED
  const rests = Math.max(free, now, all[WHEN_EMPTY])
  all[AT] = runs ? Math.min(Math.max(now, calendar), rests) : Math.max(now, all[STANDS])
  all[FREE] = all[IDLE_FROM] = free
  all[SINCE] = since
  all[FINISH] = finish
  all[LEFT] = left
  all[STILL] = still
  all[QUIET] = quiet
  if (taken > 0) all[WORK] = slot
  host.meter.countThrough(taken, takenSum, put, putSum)
  counter[STARTS] += taken
  counter[IDEAL_TIME] += ended * slot
  books[PRODUCTIVE] += productive
  books[STARVED] += starved
  books[BLOCKED] += blocked
  return acts
}
