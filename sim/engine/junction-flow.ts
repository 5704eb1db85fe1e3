import type { Channel } from './channel.ts'
import type { JunctionHost } from './junction-host.ts'
import * as Hosts from './junction-host.ts'
import { type Doors, runPair } from './junction-pair.ts'

const { EMPTY } = Hosts

/**
 * The fast loop of a junction with one output: wafer after wafer is taken and handed on,
 * in the order of the general loop and with the same effect, as long as the next wafer and
 * its place are recorded. The strict drive never comes here, so comparing the drives
 * compares the loops.
 *
 * Every input has a wafer first in line, or a tick before which none arrives. The two
 * inputs where that comes first, at equal times those whose suppliers are furthest down the
 * route, go on until it is the turn of the third; if the first has no wafer, nobody knows.
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
    const first = nextDoor(host, -1, -1)
    if (inputs[first].waiting === 0) {
      if (!host.draw(first)) return acts
      continue
    }
    while (presses && output.roomLeft === 0) presses = host.press()
    const second = nextDoor(host, first, first)
    const third = second < 0 ? -1 : nextDoor(host, first, second)
    const doors: Doors = {
      first,
      second,
      firstAhead: second < 0 || goesBefore(host, first, second),
      untilFirst: turnOf(host, first, third),
      untilSecond: turnOf(host, second, third),
    }
    const done = runPair(host, doors, stop, edge, presses)
    if (done === 0) return acts
    acts += done
  }
  return acts
}

/** Before this tick a wafer of an input goes before any of the third (-1: there is none). Times are whole or half ticks. */
function turnOf(host: JunctionHost, door: number, third: number): number {
  if (door < 0 || third < 0) return Infinity
  const turn = boundOf(host.inputs[third])
  return goesBefore(host, door, third) ? turn + 0.25 : turn
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

/** The input whose turn comes first, but for two; -1: there is none. */
function nextDoor(host: JunctionHost, one: number, other: number): number {
  const { inputs } = host
  let best = -1
  let bestTime = Infinity
  for (let i = 0; i < inputs.length; i++) {
    if (i === one || i === other) continue
    const time = boundOf(inputs[i])
    if (best >= 0 && (time > bestTime || (time === bestTime && goesBefore(host, best, i)))) continue
    best = i
    bestTime = time
  }
  return best
}
