import { Channel } from './channel.ts'
import type { JunctionHost } from './junction-host.ts'

/** The two inputs whose turn comes first. */
export interface Doors {
  readonly first: number
  /** -1: there is one input only. */
  readonly second: number
  /** Of wafers of the same tick that of the first goes before. */
  readonly firstAhead: boolean
  /** Before these ticks the wafers of either go before those of all other inputs. */
  readonly untilFirst: number
  readonly untilSecond: number
}

/** In the place of a second input where there is none: nothing ever comes. */
const NOBODY = new Channel({
  ...{ place: 0, from: -1, to: -1, capacity: Infinity, delay: 0 },
  ...{ lifo: false, outside: true },
})

/**
 * Merges the wafers of two inputs, one by one, and hands them on. Lanes that work at the same
 * pace come by turns, and a loop set up for a wafer or two costs more than they. It keeps all it
 * touches in locals. On `| 0`, `- 0` and `=== true` see DEVELOPERS.md.
 *
 * @param stop acts up to, not including, this tick; those without an act of their own up to `edge`
 * @param presses no wafer is taken once no place is recorded for it: the station behind is pressed first
 * @returns acts done
 */
export function runPair(
  host: JunctionHost,
  { first, second, firstAhead, untilFirst, untilSecond }: Doors,
  stop: number,
  edge: number,
  presses: boolean,
): number {
  const a = host.inputs[first]
  const b = second < 0 ? NOBODY : host.inputs[second]
  const output = host.outputs[0]
  const { ready: aReady, wafer: aWafers, room: aRoom } = a
  const { ready: bReady, wafer: bWafers, room: bRoom } = b
  const aMask = a.mask | 0
  const bMask = b.mask | 0
  const aRoomMask = a.roomMask | 0
  const bRoomMask = b.roomMask | 0
  const aRoomTail = (a.roomHead + a.roomLeft) | 0
  const bRoomTail = (b.roomHead + b.roomLeft) | 0
  const aGives = givesRoom(a)
  const bGives = givesRoom(b)
  const aOutside = a.outside === true
  const bOutside = b.outside === true
  // Before these ticks nothing comes in that is not recorded.
  const aFrom = a.arrivesFrom() - 0
  const bFrom = b.arrivesFrom() - 0
  const { room, ready, wafer: departures } = output
  const bounded = output.bounded === true
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const mask = output.mask | 0
  const delay = output.delay - 0
  const tail = (output.head + output.waiting) | 0
  // Places that are recorded, or that the ring of an unbounded output still has.
  const places = bounded ? output.roomLeft | 0 : (mask + 1 - output.waiting) | 0
  const waits = presses === true || !bounded
  const ahead = firstAhead === true
  const aUntil = untilFirst - 0
  const bUntil = untilSecond - 0
  const { flow } = host.meter
  const base = host.meter.base - 0
  const { birth } = host.wafers
  const before = stop - 0
  const end = edge - 0
  const aHead = a.head | 0
  const bHead = b.head | 0
  const aCount = a.waiting | 0
  const bCount = b.waiting | 0
  let now = host.now - 0
  let aTaken = 0
  let bTaken = 0
  let aSum = 0
  let bSum = 0
  let put = 0
  let putSum = 0
  let late = 0
  for (;;) {
    const aTime = aTaken < aCount ? aReady[(aHead + aTaken) & aMask] : aFrom
    const bTime = bTaken < bCount ? bReady[(bHead + bTaken) & bMask] : bFrom
    const isA = aTime < bTime || (aTime === bTime && ahead)
    const arrival = isA ? aTime : bTime
    const time = arrival > now ? arrival : now
    if (!(arrival < (isA ? aUntil : bUntil) && time < before)) break
    if (put === places && waits) break
    let wafer = 0
    if (isA) {
      if (aTaken === aCount) break
      wafer = aWafers[(aHead + aTaken) & aMask]
      if (aOutside) birth[wafer] = time
      else if (aGives) aRoom[(aRoomTail + aTaken) & aRoomMask] = time
      aTaken++
      aSum += time - base
    } else {
      if (bTaken === bCount) break
      wafer = bWafers[(bHead + bTaken) & bMask]
      if (bOutside) birth[wafer] = time
      else if (bGives) bRoom[(bRoomTail + bTaken) & bRoomMask] = time
      bTaken++
      bSum += time - base
    }
    now = time + 1
    let place = now
    if (bounded) {
      place = put < places ? room[(roomHead + put) & roomMask] : Infinity
      // A place that is free by then needs no act of its own.
      if (place <= now) place = now
    }
    if (!(place < (place === now ? end : before))) {
      host.holds = wafer
      break
    }
    if (place > now) late++
    now = place
    departures[(tail + put) & mask] = wafer
    ready[(tail + put) & mask] = place + delay
    put++
    putSum += place - base
  }
  closeDoor(host, first, aTaken, aSum)
  if (bTaken > 0) closeDoor(host, second, bTaken, bSum)
  output.waiting += put
  if (bounded) {
    output.roomLeft -= put
    output.roomHead = (roomHead + put) & roomMask
  }
  host.now = now
  flow[2 * host.inputs.length] += put
  flow[2 * host.inputs.length + 1] += putSum
  return aTaken + bTaken + late
}

/** Whether its places are free when wafers are taken. */
function givesRoom(input: Channel): boolean {
  return input.bounded && !input.direct && !input.outside
}

function closeDoor({ inputs, meter }: JunctionHost, door: number, taken: number, takenSum: number): void {
  const input = inputs[door]
  if (givesRoom(input)) input.roomLeft += taken
  input.waiting -= taken
  input.head = (input.head + taken) & input.mask
  meter.flow[2 * door] += taken
  meter.flow[2 * door + 1] += takenSum
}
