import type { Channel } from './channel.ts'
import type { JunctionHost, Lanes } from './junction-host.ts'
import * as Hosts from './junction-host.ts'

const { EMPTY } = Hosts

/**
 * The fast loop of a junction with one input and several outputs, all with places of their
 * own: wafer after wafer is taken, held for a tick, and handed to a lane. What it looks at
 * of each lane for each wafer lies together, since there may be many lanes.
 *
 * @param stop acts up to, not including, this tick (no block ends before it)
 * @returns acts done
 */
export function split(host: JunctionHost, stop: number): number {
  const { outputs, meter, wafers, plan, lanes } = host
  const input = host.inputs[0]
  const { flow } = meter
  const base = meter.base - 0
  const before = stop - 0
  const { outside, endless } = input
  const givesRoom = input.bounded && !input.direct && !outside
  const inTurn = plan.split === 'in turn'
  if ((input.waiting === 0 && !endless) || host.holds !== EMPTY) return 0
  for (let k = 0; k < outputs.length; k++) openLane(lanes, outputs[k], k, host.now)
  let acts = 0
  while (input.waiting > 0 || endless) {
    input.supply(wafers)
    const arrival = input.ready[input.head]
    const time = arrival > host.now ? arrival : host.now
    if (!(time < before)) break
    const wafer = input.takeOldest()
    if (outside) wafers.birth[wafer] = time
    else if (givesRoom) input.addRoom(time)
    flow[0]++
    flow[1] += time - base
    host.now = time + 1
    acts++
    const place = firstPlace(lanes, host.now)
    const lane = place < before ? choose(host, inTurn, place) : UNKNOWN
    if (lane === UNKNOWN) {
      host.holds = wafer
      break
    }
    host.now = place
    outputs[lane].useRoom(place)
    outputs[lane].put(wafer, place)
    lanes.free[lane]--
    flow[2 + 2 * lane]++
    flow[3 + 2 * lane] += place - base
    host.turn = lane + 1 === outputs.length ? 0 : lane + 1
    host.lastSent[lane] = ++host.sent
    acts++
  }
  return acts
}

/** Of `choose`: it is not known. */
const UNKNOWN = -1

function openLane({ free, nextRoom }: Lanes, output: Channel, lane: number, now: number): void {
  free[lane] = output.capacity - output.fillAt(now)
  nextRoom[lane] = roomAfter(output, free[lane])
}

/** Tick of the room entry that comes after so many. */
function roomAfter({ room, roomHead, roomMask, roomLeft }: Channel, entries: number): number {
  return entries < roomLeft ? room[(roomHead + entries) & roomMask] : Infinity
}

/** When a wafer that is held from `now` on finds the first place of any lane; Infinity when none is recorded. */
function firstPlace({ free, nextRoom }: Lanes, now: number): number {
  let first = Infinity
  for (let k = 0; k < free.length; k++) {
    if (free[k] > 0) return now
    if (nextRoom[k] < first) first = nextRoom[k]
  }
  return first > now ? first : now
}

/**
 * Counts the places that are free by `time`, and chooses: in turn the next lane that has
 * one; else of those that have one the lane with the fewest wafers, at equal numbers the one
 * that has waited longest. @returns UNKNOWN when not all is known that the choice looks at
 */
function choose({ outputs, lanes, lastSent, turn }: JunctionHost, inTurn: boolean, time: number): number {
  const { free, nextRoom } = lanes
  let best = UNKNOWN
  let fewest = Infinity
  for (let k = 0; k < free.length; k++) {
    while (nextRoom[k] <= time) nextRoom[k] = roomAfter(outputs[k], ++free[k])
    if (nextRoom[k] === Infinity && !isSettled(outputs[k], inTurn) && !(outputs[k].takesFrom > time))
      return UNKNOWN
    if (free[k] === 0) continue
    const fill = outputs[k].capacity - free[k]
    if (fill > fewest || (fill === fewest && lastSent[k] >= lastSent[best])) continue
    fewest = fill
    best = k
  }
  return inTurn ? nextInTurn(free, turn) : best
}

/** Of a lane of which no later room is recorded: whether what is recorded is enough for the choice. */
function isSettled({ roomLeft, waiting, stacked }: Channel, inTurn: boolean): boolean {
  return inTurn ? roomLeft > 0 : waiting + stacked === 0
}

function nextInTurn(free: Int32Array, turn: number): number {
  let lane = turn
  while (free[lane] === 0) lane = lane + 1 === free.length ? 0 : lane + 1
  return lane
}
