import type { Channel } from './channel.ts'
import type { JunctionHost } from './junction-host.ts'

/**
 * The fast loop of a junction where two flows join: what `runDoor` does for one of them until
 * it is the turn of the other, for both, wafer by wafer. Lanes that work at the same pace come
 * by turns, and a loop set up for a wafer or two costs more than they. It holds everything it
 * touches in locals, those of the two inputs by turns. On `| 0`, `- 0` and `=== true` see DEVELOPERS.md.
 *
 * @param stop acts up to, not including, this tick; those without an act of their own up to `edge`
 * @param aFirst of wafers of the same tick the one at the first input goes first
 * @param presses no wafer is taken once no place is recorded for it: the station behind is pressed first
 * @returns acts done
 */
export function runPair(
  host: JunctionHost,
  stop: number,
  edge: number,
  aFirst: boolean,
  presses: boolean,
): number {
  const [a, b] = host.inputs
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
  const first = aFirst === true
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
    const isA = aTime < bTime || (aTime === bTime && first)
    const arrival = isA ? aTime : bTime
    const time = arrival > now ? arrival : now
    if (!(time < before) || (put === places && waits)) break
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
  closeDoor(a, aTaken, aGives)
  closeDoor(b, bTaken, bGives)
  output.waiting += put
  if (bounded) {
    output.roomLeft -= put
    output.roomHead = (roomHead + put) & roomMask
  }
  host.now = now
  flow[0] += aTaken
  flow[1] += aSum
  flow[2] += bTaken
  flow[3] += bSum
  flow[4] += put
  flow[5] += putSum
  return aTaken + bTaken + late
}

/** Whether its places are free when wafers are taken. */
function givesRoom(input: Channel): boolean {
  return input.bounded && !input.direct && !input.outside
}

function closeDoor(input: Channel, taken: number, gives: boolean): void {
  input.waiting -= taken
  input.head = (input.head + taken) & input.mask
  if (gives) input.roomLeft += taken
}
