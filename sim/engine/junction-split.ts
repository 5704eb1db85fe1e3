import type { Channel } from './channel.ts'
import type { JunctionHost, Lanes } from './junction-host.ts'
import * as Hosts from './junction-host.ts'

const { EMPTY } = Hosts

/**
 * The fast loop of a junction with one input and several outputs, all with places of their
 * own: wafer after wafer is taken, held for a tick, and handed to a lane. What it looks at
 * of each lane for each wafer lies together, since there may be many lanes; and it looks at all of
 * them only when places become free, or when not all is known any more.
 *
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns acts done
 */
export function split(host: JunctionHost, stop: number): number {
  const { outputs, meter, wafers, plan, lanes, lastSent } = host
  const input = host.inputs[0]
  const base = meter.base - 0
  const before = stop - 0
  const { endless } = input
  const outside = input.outside === true
  const givesRoom = input.bounded && !input.direct && !outside
  const inTurn = plan.split === 'in turn'
  if ((input.waiting === 0 && !endless) || host.holds !== EMPTY) return 0
  openLanes(lanes, outputs, host.now)
  let turn = host.turn | 0
  let sent = host.sent - 0
  let now = host.now - 0
  let takenSum = 0
  let taken = 0
  let handed = 0
  while (input.waiting > 0 || endless) {
    input.supply(wafers)
    const arrival = input.ready[input.head]
    const time = arrival > now ? arrival : now
    if (!(time < before)) break
    const wafer = input.takeOldest()
    if (outside) wafers.birth[wafer] = time
    else if (givesRoom) input.addRoom(time)
    taken++
    takenSum += time - base
    now = time + 1
    const place = lanes.places > 0 || lanes.soonest < now ? now : lanes.soonest
    if (lanes.soonest <= place && place < before) freePlaces(lanes, outputs, place)
    if (!(place < before && place < knownBefore(lanes, outputs, inTurn))) {
      host.holds = wafer
      break
    }
    now = place
    const lane = inTurn ? nextInTurn(lanes.free, turn) : leastFull(lanes, lastSent)
    outputs[lane].useRoom(place)
    outputs[lane].put(wafer, place)
    lanes.use(lane)
    turn = lane + 1 === outputs.length ? 0 : lane + 1
    lastSent[lane] = ++sent
    handed++
  }
  host.now = now
  host.turn = turn
  host.sent = sent
  meter.flow[0] += taken
  meter.flow[1] += takenSum
  closeLanes(host, base)
  return taken + handed
}

/** Before the loop: which places are free, and when more are. */
function openLanes(lanes: Lanes, outputs: readonly Channel[], now: number): void {
  lanes.places = 0
  lanes.soonest = Infinity
  lanes.known = Number.NaN
  for (let k = 0; k < outputs.length; k++) {
    const output = outputs[k]
    lanes.free[k] = output.capacity - output.fillAt(now)
    lanes.fill[k] = output.capacity - lanes.free[k]
    lanes.begun[k] = output.waiting
    lanes.places += lanes.free[k]
    lanes.nextRoom[k] = roomAfter(output, lanes.free[k])
    lanes.soonest = Math.min(lanes.soonest, lanes.nextRoom[k])
  }
}

/** After it: the books of each lane. */
function closeLanes({ outputs, lanes, meter: { flow } }: JunctionHost, base: number): void {
  for (let k = 0; k < outputs.length; k++) {
    const put = outputs[k].waiting - lanes.begun[k]
    if (put === 0) continue
    flow[2 + 2 * k] += put
    flow[3 + 2 * k] += outputs[k].sumOfPuts(outputs[k].head + lanes.begun[k], put, base)
  }
}

/** Tick of the room entry that comes after so many. */
function roomAfter({ room, roomHead, roomMask, roomLeft }: Channel, entries: number): number {
  return entries < roomLeft ? room[(roomHead + entries) & roomMask] : Infinity
}

/** Counts the places that are free by `time`. */
function freePlaces(lanes: Lanes, outputs: readonly Channel[], time: number): void {
  const { free, fill, nextRoom } = lanes
  let soonest = Infinity
  for (let k = 0; k < free.length; k++) {
    while (nextRoom[k] <= time) {
      nextRoom[k] = roomAfter(outputs[k], ++free[k])
      fill[k]--
      lanes.places++
    }
    if (nextRoom[k] < soonest) soonest = nextRoom[k]
  }
  lanes.soonest = soonest
  lanes.known = Number.NaN
}

/** Before this tick all is known that a choice looks at. */
function knownBefore(lanes: Lanes, outputs: readonly Channel[], inTurn: boolean): number {
  if (!Number.isNaN(lanes.known)) return lanes.known
  let known = Infinity
  for (let k = 0; k < outputs.length; k++)
    if (lanes.nextRoom[k] === Infinity && !isSettled(outputs[k], inTurn))
      known = Math.min(known, outputs[k].takesFrom)
  lanes.known = known
  return known
}

/** Of a lane of which no later room is recorded: whether what is recorded is enough for the choice. */
function isSettled({ roomLeft, waiting, stacked }: Channel, inTurn: boolean): boolean {
  return inTurn ? roomLeft > 0 : waiting + stacked === 0
}

/** Of the lanes that have a place the one with the fewest wafers, at equal numbers the one that has waited longest. */
function leastFull({ free, fill }: Lanes, lastSent: Float64Array): number {
  let best = -1
  let fewest = Infinity
  for (let k = 0; k < free.length; k++) {
    const wafers = fill[k]
    if (wafers > fewest || free[k] === 0) continue
    if (wafers === fewest && lastSent[k] >= lastSent[best]) continue
    fewest = wafers
    best = k
  }
  return best
}

function nextInTurn(free: Int32Array, turn: number): number {
  let lane = turn
  while (free[lane] === 0) lane = lane + 1 === free.length ? 0 : lane + 1
  return lane
}
