import { PassingStation } from '../../sim/engine/passing-station.ts'
import { Run, runToEnd } from '../../sim/engine/run.ts'
import { SingleStation, STEP } from '../../sim/engine/single.ts'
import { checkLine } from '../../sim/line/check.ts'
import type { Line, Route } from '../../sim/line/types.ts'
import { type Rows, rowsOf } from '../../sim/measure/rows.ts'
import { type WindowFigures, windowFigures } from '../../sim/measure/window.ts'
import { compile } from '../../sim/plan/compile.ts'

const SECOND = 1e6

export interface Observed {
  /** Seconds at which wafers were put into each channel, by the name of the station that took them, and of the place. */
  readonly puts: (place: string) => number[]
  /** Seconds at which good wafers left the line. */
  readonly exits: number[]
  readonly figures: WindowFigures
  readonly rows: Rows
}

/** Runs a line once, with the drive given, and keeps the times of what happens. */
export function observe(
  route: Route,
  seconds: number,
  drive: 'strict' | 'eager',
  more: Partial<Line> = {},
): Observed {
  const { line, problems } = checkLine({ line: 'observed', route, ...more })
  if (!line) throw new Error(JSON.stringify(problems))
  const plan = compile(line)
  const run = new Run(plan, seconds * SECOND, { seed: 'observe', replication: 0 }, drive)
  const times = new Map<string, number[]>()
  const note = (place: string, time: number) => {
    const known = times.get(place)
    if (known) known.push(time / SECOND)
    else times.set(place, [time / SECOND])
  }
  run.works.channels.forEach((channel, index) => {
    const put = channel.put.bind(channel)
    const putSpan = channel.putSpan.bind(channel)
    const putEach = channel.putEach.bind(channel)
    const place = plan.places[plan.channels[index].place].name
    channel.put = (wafer, time) => {
      if (!channel.endless) note(place, time)
      put(wafer, time)
    }
    channel.putSpan = (load, from, to, time) => {
      for (let wafer = from; wafer < to; wafer++) note(place, time)
      putSpan(load, from, to, time)
    }
    channel.putEach = (...load) => {
      const count = putEach(...load)
      for (let w = channel.head + channel.waiting - count; w < channel.head + channel.waiting; w++)
        note(place, channel.ready[w & channel.mask] - channel.delay)
      return count
    }
  })
  for (const station of run.works.stations) {
    // The fast loop writes into channels by itself; that it does the same is for the comparison of the drives.
    if (station instanceof SingleStation) Object.assign(station, { pace: STEP })
    if (!(station instanceof PassingStation)) continue
    const leave = station.leave.bind(station)
    station.leave = (wafer, time) => {
      note('exit', time)
      leave(wafer, time)
    }
  }
  runToEnd(run)
  const rows = rowsOf(plan, run)
  const sorted = (place: string) => (times.get(place) ?? []).sort((a, b) => a - b)
  return { puts: sorted, exits: sorted('exit'), figures: windowFigures(rows, 0), rows }
}
