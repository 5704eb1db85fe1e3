import { UNSCHEDULED_DOWN, WAITING_FOR_CREW } from '../../sim/engine/meter.ts'
import type { Line, Route, Stop } from '../../sim/line/types.ts'
import type { ClockTime } from '../../sim/line/types-people.ts'
import type { PathCheck, PathFigures } from './check.ts'
import { PathLine } from './observed-path.ts'
import { replay } from './path-lines.ts'

/**
 * A crew that serves failures at given times, first come first served. A time unit is two
 * minutes, so that all failures strike at whole minutes by the clock.
 */
const UNIT = 120
/** A quarter of a unit [s]. */
const CYCLE = 30

interface Failures {
  readonly at: readonly ClockTime[]
  /** Repair times [units]. */
  readonly repairs: readonly number[]
}

const TOOLS: Readonly<Record<string, Failures>> = {
  A: { at: ['00:04', '00:40'], repairs: [6, 2] },
  B: { at: ['00:06', '00:42'], repairs: [4, 1] },
  C: { at: ['00:10'], repairs: [3] },
  D: { at: ['00:41'], repairs: [5] },
}

const NAMES = Object.keys(TOOLS)

/** Four tools side by side, each with wafers at any time. */
function lineOf(heads: number): Line {
  const lane = (name: string): Route => {
    const { at, repairs } = TOOLS[name]
    const lasts = replay(repairs.map(units => units * UNIT))
    const stop: Stop = { stop: 'failure', counts: 'calendar time', at, lasts, skill: 'crew' }
    return [{ step: name, cycle: `${CYCLE} s`, stops: [stop] }]
  }
  return {
    line: `S-24, crew of ${heads}`,
    crews: { crew: { heads } },
    route: [{ group: 'tools', lanes: Object.fromEntries(NAMES.map(name => [name, lane(name)])) }],
  }
}

/** The wafer in work at a failure is done when the repair ends: all but its last microsecond was done before. */
function repairEnds(done: readonly number[]): number[] {
  return done.filter((time, index) => index > 0 && time - done[index - 1] > CYCLE)
}

function find(line: Line, drive: 'strict' | 'eager'): PathFigures {
  const path = new PathLine(line).run(CYCLE, drive)
  const units = (seconds: number) => seconds / UNIT
  const stations = NAMES.map(name => `${name} ${name}`)
  const inState = (state: number) =>
    stations.reduce((sum, station) => sum + units(path.timeIn(station, state)), 0)
  const ends = NAMES.map((name, tool) => [
    `repair ends of ${name}`,
    repairEnds(path.handedOn(stations[tool])).map(units),
  ])
  const waiting = inState(WAITING_FOR_CREW)
  return { ...Object.fromEntries(ends), downtime: inState(UNSCHEDULED_DOWN) + waiting, waiting }
}

function crewPath(heads: number, expected: PathFigures): PathCheck {
  const line = lineOf(heads)
  return {
    id: `S-24${'ab'[heads - 1]}`,
    family: 'unreliable lines',
    what: `six failures of four tools, crew of ${heads}, first come first served`,
    source: 'arithmetic by hand',
    line,
    expected,
    find: drive => find(line, drive),
  }
}

export const CREW_PATHS: readonly PathCheck[] = [
  crewPath(1, {
    'repair ends of A': [8, 22],
    'repair ends of B': [12, 28],
    'repair ends of C': [15],
    'repair ends of D': [27],
    downtime: 40.5,
    waiting: 19.5,
  }),
  crewPath(2, {
    'repair ends of A': [8, 22],
    'repair ends of B': [7, 23],
    'repair ends of C': [10],
    'repair ends of D': [25.5],
    downtime: 24,
    waiting: 3,
  }),
]
