import type { Channel } from './channel.ts'
import type { Meter } from './meter.ts'
import type { Outcome } from './outcome.ts'
import * as Outcomes from './outcome.ts'
import type { Treatment } from './treatment.ts'
import type { Wafers } from './wafers.ts'

const { GONE } = Outcomes

/**
 * Takes wafers of a load that became ready before `readyBefore` from a channel that is
 * first in, first out, all in the same tick: as `Station.takeFrom` does one after another,
 * with the books of the door written once.
 *
 * @returns wafers taken, at most `load.length`
 */
export function fill(
  load: Int32Array,
  input: Channel,
  readyBefore: number,
  time: number,
  { birth }: Wafers,
  { flow, base }: Meter,
): number {
  const { wafer, ready, outside } = input
  const mask = input.mask | 0
  const most = Math.min(load.length, input.waiting)
  const before = readyBefore - 0
  let head = input.head | 0
  let size = 0
  for (; size < most && ready[head] < before; size++) {
    load[size] = wafer[head]
    head = (head + 1) & mask
  }
  input.head = head
  input.waiting -= size
  if (outside) for (let w = 0; w < size; w++) birth[load[w]] = time
  else if (input.bounded && !input.direct) input.addRooms(size, time)
  flow[0] += size
  flow[1] += size * (time - base)
  return size
}

/** What `unload` reads and writes of a batch station. */
export interface UnloadHost {
  now: number
  readonly meter: Meter
  readonly wafers: Wafers
  readonly treatment: Treatment | undefined
  readonly finish: Float64Array
  readonly stamp: number
  /** Up to this tick nothing can happen but that a tube hands wafers over, which goes first. */
  quietUntil(): number
  /** Has the station behind act, to make room. @returns whether it has */
  press(): boolean
}

/**
 * Hands over the wafers of a load that find a place at `host.now`, in the order of
 * loading, and those that find one later, before `before`, as long as nothing else can
 * happen: the acts that would follow, one for each tick at which there is a place, since
 * none of them changes what the station could do but for the places it uses. Leaves
 * `host.now` at the last.
 *
 * @param door number of the output in the books
 * @returns wafers handed over
 */
export function unload(
  host: UnloadHost,
  tube: number,
  load: Int32Array,
  size: number,
  output: Channel,
  door: number,
  before: number,
): number {
  const { treatment, stamp } = host
  const { flow, base } = host.meter
  const finish = host.finish[tube]
  // Else those of a tick go together: without single places, or where it matters how long each was held.
  const each = output.bounded && !output.direct && !treatment?.harmsHeld
  let time = host.now
  let until = Number.NaN
  let out = 0
  while (out < size) {
    let place = output.roomAt(time)
    if (place === Infinity && host.press()) place = output.roomAt(time)
    if (place > time && !(place < before)) break
    if (Number.isNaN(until)) until = host.quietUntil()
    if (place > time && place > until) break
    time = place
    const count = each
      ? output.putEach(load, out, size, time, before, until)
      : output.roomsBy(time, size - out)
    if (!each) output.putSpan(load, out, out + count, time)
    treatment?.applyAll(tube, load, -1, out, count, finish, time - finish)
    const from = output.head + output.waiting - count
    if (stamp >= 0) output.stamp(host.wafers.stamps[stamp], from, count)
    flow[2 * door] += count
    flow[2 * door + 1] += output.sumOfPuts(from, count, base)
    time = output.lastPut()
    out += count
  }
  host.now = time
  return out
}

/**
 * Takes the wafers out of a load that break, fail or go back when its work ends.
 *
 * @returns wafers left, which stand first; time to clear the tube [ticks]
 */
export function sift(
  outcome: Outcome,
  tube: number,
  load: Int32Array,
  size: number,
  time: number,
): { kept: number; clearing: number } {
  const { quiet } = outcome
  let kept = 0
  let clearing = 0
  for (let from = 0; from < size; ) {
    // Up to the next wafer to which something happens.
    const next = Math.min(from + quiet[tube] - 1, size)
    quiet[tube] -= next - from
    if (kept < from) load.copyWithin(kept, from, next)
    kept += next - from
    from = next + 1
    if (next === size) break
    quiet[tube]--
    if (outcome.settle(tube, load[next], time) === GONE) clearing += outcome.clearing
    else load[kept++] = load[next]
  }
  return { kept, clearing }
}
