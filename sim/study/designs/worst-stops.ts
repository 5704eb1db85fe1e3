import type { Line, Stop } from '../../line/types.ts'
import type { Rows } from '../../measure/rows.ts'
import { windowFigures } from '../../measure/window.ts'
import { compile } from '../../plan/compile.ts'
import { stepsOf } from './changes.ts'

/** A stop of a step, and what it took in a run. */
export interface SeenStop {
  readonly step: string
  readonly stop: Stop
  /** Share of the time of each tool, mean over tools and replications. */
  readonly share: number
  /** How often it has come to a tool, a day. */
  readonly perDay: number
}

/** All stops that the scenario gives to steps, before anything is known of them. */
export function stopsOf(line: Line): SeenStop[] {
  return stepsOf(line).flatMap(({ step, stops = [] }) =>
    stops.map(stop => ({ step, stop, share: 0, perDay: 0 })),
  )
}

/** The stops that the scenario gives to steps, the one that takes most of its tools' time first. */
export function worstStops(line: Line, base: readonly Rows[], cut: number): SeenStop[] {
  const plan = compile(line)
  const windows = base.map(rows => windowFigures(rows, cut))
  const seen = stepsOf(line).flatMap(({ step, stops = [] }) => {
    const index = plan.steps.indexOf(step)
    const station = plan.stations.find(one => one.step === index && 'outcome' in one)
    const names = station && 'stops' in station ? station.stops.map(({ name }) => name) : []
    const { tools } = base[0].steps[index]
    return stops.map(stop => {
      const s = names.indexOf(stop.stop)
      const meanOf = (figure: 'hoursPerDay' | 'perDay') =>
        windows.reduce((sum, window) => sum + (window.steps[index].stops[s]?.[figure] ?? 0), 0) /
        windows.length
      return { step, stop, share: meanOf('hoursPerDay') / tools / 24, perDay: meanOf('perDay') }
    })
  })
  return seen.sort((a, b) => b.share - a.share)
}
