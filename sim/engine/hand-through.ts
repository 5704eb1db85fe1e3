import type { Channel } from './channel.ts'
import * as Books from './meter.ts'
import * as Phases from './phases.ts'
import type { SoloHost } from './solo.ts'
import * as Fields from './tool-fields.ts'

const { IDEAL_TIME, PRODUCTIVE, STARTS, STARVED } = Books
const { IDLE } = Phases
const { AT, CALENDAR, FINISH, FIXED, IDLE_FROM, LEFT, PHASE } = Fields
const { QUIET, RESTS, SINCE, STRIKING, WORK } = Fields

/**
 * One wafer that has been handed to an idle tool: taken, worked on and handed on, where nothing
 * is in its way and the tool then asks for the next. The two acts of `solo` that a tool does
 * over and over when it is pressed wafer by wafer, without its locals, which cost more than they.
 *
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns whether both acts have been done; if not, neither has
 */
export function handThrough(host: SoloHost, input: Channel, output: Channel, stop: number): boolean {
  const { all } = host.fields
  const work = all[FIXED]
  if (!(all[PHASE] === IDLE && all[STRIKING] < 0 && all[QUIET] > 1 && work > 0)) return false
  const ready = input.ready[input.head]
  const time = ready > host.now ? ready : host.now
  const end = time + work
  if (!(time < all[AT] && end < stop && end < all[CALENDAR] && work <= all[LEFT])) return false
  if (host.stopsWaiting > 0 || time - all[FINISH] > host.idleLimit) return false
  if (host.exit || output.direct || output.roomAt(end) !== end) return false
  if (host.plan.timeLimits.length > 0 && host.isLate(input.wafer[input.head], time)) return false
  const wafer = input.takeOldest()
  host.treatment?.apply(0, wafer, end, 0)
  if (host.stamp >= 0) host.wafers.stamps[host.stamp][wafer] = end
  if (output.bounded) output.useRoom(end)
  output.put(wafer, end)
  const rests = all[RESTS]
  const until = rests > end ? rests : end
  input.request(end, until)
  const { flow, counter, state, base } = host.meter
  flow[0]++
  flow[1] += time - base
  flow[2]++
  flow[3] += end - base
  counter[STARTS]++
  counter[IDEAL_TIME] += work
  state[STARVED] += time - all[SINCE]
  state[PRODUCTIVE] += work
  host.now = all[SINCE] = all[FINISH] = all[IDLE_FROM] = end
  all[AT] = until
  all[WORK] = work
  all[LEFT] -= work
  all[QUIET]--
  return true
}
