import type { Channel } from './channel.ts'
import type { JunctionHost } from './junction-host.ts'
import * as Hosts from './junction-host.ts'
import { runPair } from './junction-pair.ts'

const { EMPTY } = Hosts

/**
 * The fast loop of a junction with one output: wafer after wafer is taken and handed on,
 * in the order of the general loop and with the same effect, as long as the next wafer and
 * its place are recorded. The strict drive never comes here, so comparing the drives
 * compares the loops.
 *
 * Every input has a wafer first in line, or a tick before which none arrives. The input
 * where that comes first, at equal times the one whose supplier is furthest down the
 * route, goes on until it is the turn of the second; if it has no wafer, nobody knows.
 *
 * No input is endless or last in, first out.
 *
 * @param stop acts up to, not including, this tick (no block ends before `edge`)
 * @returns acts done
 */
export function join(host: JunctionHost, stop: number, edge: number): number {
  const { inputs } = host
  const output = host.outputs[0]
  let acts = 0
  let presses = output.bounded
  while (host.holds === EMPTY) {
    const first = nextDoor(host, -1)
    if (inputs[first].waiting === 0) {
      if (!host.draw(first)) return acts
      continue
    }
    while (presses && output.roomLeft === 0) presses = host.press()
    const done =
      inputs.length === 2
        ? runPair(host, stop, edge, goesBefore(host, 0, 1), presses)
        : runTurn(host, first, stop, edge, presses)
    if (done === 0) return acts
    acts += done
  }
  return acts
}

/** The input that is first goes on until it is the turn of the second. @returns acts done */
function runTurn(host: JunctionHost, first: number, stop: number, edge: number, presses: boolean): number {
  const second = nextDoor(host, first)
  const turn = second < 0 ? Infinity : boundOf(host.inputs[second])
  // Times are whole or half ticks.
  const until = second < 0 || goesBefore(host, first, second) ? turn + 0.25 : turn
  return runDoor(host, first, stop, edge, until, presses)
}

/** When the next wafer of an input is ready, or before which tick none is. */
function boundOf(input: Channel): number {
  return input.waiting > 0 ? input.ready[input.head] : input.arrivesFrom()
}

/** Whether of wafers of the same tick the one at input `a` goes before the one at `b`. */
function goesBefore(host: JunctionHost, a: number, b: number): boolean {
  const ahead = host.positionOf(a)
  const behind = host.positionOf(b)
  return ahead > behind || (ahead === behind && a > b)
}

/** The input whose turn comes first, but for `other`; -1: there is none. */
function nextDoor(host: JunctionHost, other: number): number {
  const { inputs } = host
  let best = -1
  let bestTime = Infinity
  for (let i = 0; i < inputs.length; i++) {
    if (i === other) continue
    const time = boundOf(inputs[i])
    if (best >= 0 && (time > bestTime || (time === bestTime && goesBefore(host, best, i)))) continue
    best = i
    bestTime = time
  }
  return best
}

/**
 * Takes wafers of one input that are ready before `until` and hands them on. It keeps all
 * it touches in locals. On `| 0` and `- 0` see DEVELOPERS.md.
 *
 * @param presses no wafer is taken once no place is recorded for it: the station behind is pressed first
 * @returns acts done
 */
function runDoor(
  host: JunctionHost,
  door: number,
  stop: number,
  edge: number,
  until: number,
  presses: boolean,
): number {
  const input = host.inputs[door]
  const output = host.outputs[0]
  const { ready, wafer: arrivals } = input
  const outside = input.outside === true
  const mask = input.mask | 0
  const head = input.head | 0
  const { room, ready: outReady, wafer: departures } = output
  const bounded = output.bounded === true
  const roomMask = output.roomMask | 0
  const roomHead = output.roomHead | 0
  const outMask = output.mask | 0
  const delay = output.delay - 0
  const { flow } = host.meter
  const base = host.meter.base - 0
  const { birth } = host.wafers
  const givesRoom = input.bounded === true && !input.direct && !outside
  const { room: inRoom } = input
  const inRoomMask = input.roomMask | 0
  const inRoomTail = (input.roomHead + input.roomLeft) | 0
  const tail = (output.head + output.waiting) | 0
  // Places that are recorded, or that the ring of an unbounded output still has.
  const places = bounded ? output.roomLeft | 0 : (outMask + 1 - output.waiting) | 0
  const wafers = input.waiting | 0
  const waits = presses === true || !bounded
  const before = stop - 0
  const last = until - 0
  const end = edge - 0
  let now = host.now - 0
  let taken = 0
  let put = 0
  let takenSum = 0
  let putSum = 0
  let late = 0
  while (taken < wafers) {
    const at = (head + taken) & mask
    const arrival = ready[at]
    const time = arrival > now ? arrival : now
    if (!(arrival < last && time < before)) break
    if (put === places && waits) break
    const wafer = arrivals[at]
    if (outside) birth[wafer] = time
    else if (givesRoom) inRoom[(inRoomTail + taken) & inRoomMask] = time
    taken++
    takenSum += time - base
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
    departures[(tail + put) & outMask] = wafer
    outReady[(tail + put) & outMask] = place + delay
    put++
    putSum += place - base
  }
  input.waiting -= taken
  input.head = (head + taken) & mask
  if (givesRoom) input.roomLeft += taken
  output.waiting += put
  if (bounded) {
    output.roomLeft -= put
    output.roomHead = (roomHead + put) & roomMask
  }
  host.now = now
  flow[2 * door] += taken
  flow[2 * door + 1] += takenSum
  flow[2 * host.inputs.length] += put
  flow[2 * host.inputs.length + 1] += putSum
  return taken + late
}
