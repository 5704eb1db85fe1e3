import type { Line } from '../../sim/line/types.ts'
import type { PathCheck } from './check.ts'
import { serialRoute, stepName } from './lines.ts'
import { PathLine } from './observed-path.ts'
import { allAtOnce, replay, seconds } from './path-lines.ts'

/**
 * Serial lines with given times per wafer and station, blocking after service. Times of
 * the sources are seconds here. They do not depend on the order of events at one instant.
 */
const RECURSION =
  'departure recursion: Altiok 1997, Performance Analysis of Manufacturing Systems; Buzacott & Shanthikumar 1993, Stochastic Models of Manufacturing Systems (values computed independently, citations from memory)'
const ARITHMETIC = 'arithmetic by hand'

/** Services by wafer and station. */
type Services = readonly (readonly number[])[]

function serialPath(line: string, services: Services, places: readonly (number | 'unlimited')[]): Line {
  const steps = services[0].map((_, station) => ({ cycle: replay(services.map(row => row[station])) }))
  return { line, feed: allAtOnce(services.length), route: serialRoute(steps, places) }
}

function deterministic(places: number): PathCheck {
  const steps = [4, 6, 3, 5].map(time => ({ cycle: seconds(time) }))
  const line: Line = {
    line: 'S-18',
    feed: allAtOnce(100),
    route: serialRoute(steps, [places, places, places]),
  }
  return {
    id: `S-18${places === 0 ? 'a' : 'b'}`,
    family: 'serial lines',
    what: `fixed times 4, 6, 3, 5; 100 wafers, ${places} places between`,
    source: ARITHMETIC,
    line,
    expected: { 'first out': 18, 'last out': 612 },
    find(drive) {
      const path = new PathLine(line)
      const coarse = path.run(2, drive)
      return {
        'first out': path.exitTime('step 4', 1, coarse, drive),
        'last out': path.exitTime('step 4', 100, coarse, drive),
      }
    },
  }
}

const EIGHT_WAFERS: Services = [
  [3, 5, 2, 4],
  [4, 2, 6, 3],
  [2, 7, 3, 5],
  [5, 3, 4, 2],
  [3, 4, 5, 6],
  [6, 2, 3, 4],
  [2, 5, 4, 3],
  [4, 3, 2, 5],
]
/** Departures with places (1, 0, 2), by station. */
const DEPARTURES_102 = [
  [3, 7, 9, 14, 17, 23, 25, 29],
  [8, 10, 17, 20, 24, 29, 34, 38],
  [10, 16, 20, 24, 29, 32, 38, 40],
  [14, 19, 25, 27, 35, 39, 42, 47],
]
const DEPARTURES_000 = [
  [3, 8, 10, 17, 20, 26, 30, 36],
  [8, 10, 17, 20, 25, 30, 36, 40],
  [10, 16, 20, 25, 30, 36, 40, 43],
  [14, 19, 25, 27, 36, 40, 43, 48],
]

function eightWafers(
  id: string,
  places: readonly number[],
  blocked: readonly number[],
  makespan: number,
  departures: readonly (readonly number[])[] = [],
): PathCheck {
  const line = serialPath(id, EIGHT_WAFERS, places)
  const byStation = departures.map((times, station) => [`departures from ${stepName(station)}`, times])
  return {
    id,
    family: 'serial lines',
    what: `8 wafers, 4 stations, places ${places.join(', ')}`,
    source: RECURSION,
    line,
    expected: { makespan, 'blocked time': blocked, ...Object.fromEntries(byStation) },
    find(drive) {
      const path = new PathLine(line).run(1, drive)
      const found = departures.map((_, station) => [
        `departures from ${stepName(station)}`,
        path.handedOn(stepName(station)),
      ])
      return {
        makespan: Math.max(...path.handedOn('step 4')),
        'blocked time': blocked.map((_, station) => path.blocked(stepName(station))),
        ...Object.fromEntries(found),
      }
    },
  }
}

const MODULUS = 2_147_483_647

/**
 * Services 1 + (x mod 20), x by the generator of Park & Miller (1988), Communications of
 * the ACM 31: x <- 16807 x mod (2^31 - 1) from 1, wafer by wafer, station by station.
 */
export function parkMillerServices(wafers: number, stations: number): number[][] {
  let x = 1
  return Array.from({ length: wafers }, () =>
    Array.from({ length: stations }, () => {
      // Both factors stay below 2^46 together: exact in a double.
      x = (16_807 * x) % MODULUS
      return 1 + (x % 20)
    }),
  )
}

interface LongPath {
  readonly id: string
  readonly wafers: number
  readonly places: readonly (number | 'unlimited')[]
  readonly firstOut: number
  readonly halfOut: number
  readonly makespan: number
  readonly sumOfDepartures: number
  readonly blocked: readonly number[]
}

const LONG_PATHS: readonly LongPath[] = [
  {
    id: 'S-20a',
    wafers: 2000,
    places: [0, 0, 0, 0],
    firstOut: 62,
    halfOut: 16_345,
    makespan: 32_565,
    sumOfDepartures: 32_650_194,
    blocked: [11_371, 8510, 7538, 4663, 0],
  },
  {
    id: 'S-20b',
    wafers: 2000,
    places: [2, 1, 0, 3],
    firstOut: 62,
    halfOut: 14_284,
    makespan: 28_495,
    sumOfDepartures: 28_556_688,
    blocked: [7274, 6544, 6695, 11, 0],
  },
  {
    id: 'S-20c',
    wafers: 2000,
    places: [5, 5, 5, 5],
    firstOut: 62,
    halfOut: 11_739,
    makespan: 23_172,
    sumOfDepartures: 23_329_886,
    blocked: [1866, 838, 941, 237, 0],
  },
  {
    id: 'S-20d',
    wafers: 2000,
    places: ['unlimited', 'unlimited', 'unlimited', 'unlimited'],
    firstOut: 62,
    halfOut: 11_264,
    makespan: 22_202,
    sumOfDepartures: 22_454_878,
    blocked: [0, 0, 0, 0, 0],
  },
  {
    id: 'S-20e',
    wafers: 500,
    places: Array<number>(9).fill(1),
    firstOut: 113,
    halfOut: 3547,
    makespan: 6987,
    sumOfDepartures: 1_772_171,
    blocked: [1635, 1157, 1137, 965, 951, 902, 570, 687, 309, 0],
  },
]

/** Blocks of this length cover 40 000 s, more than any of these lines needs. */
const BLOCK = 80

const longPaths = LONG_PATHS.map(({ id, wafers, places, blocked, ...times }): PathCheck => {
  const stations = places.length + 1
  const line = serialPath(id, parkMillerServices(wafers, stations), places)
  const last = stepName(stations - 1)
  return {
    id,
    family: 'serial lines',
    what: `${wafers} wafers, ${stations} stations, places ${places.join(', ')}`,
    source: RECURSION,
    line,
    expected: {
      'first out': times.firstOut,
      'half-way out': times.halfOut,
      makespan: times.makespan,
      'sum of departures': times.sumOfDepartures,
      'blocked time': blocked,
    },
    find(drive) {
      const path = new PathLine(line)
      const coarse = path.run(BLOCK, drive)
      return {
        'first out': path.exitTime(last, 1, coarse, drive),
        'half-way out': path.exitTime(last, wafers / 2, coarse, drive),
        makespan: path.exitTime(last, wafers, coarse, drive),
        'sum of departures': coarse.sumOfExits(last),
        'blocked time': blocked.map((_, station) => coarse.blocked(stepName(station))),
      }
    },
  }
})

export const SERIAL_PATHS: readonly PathCheck[] = [
  deterministic(0),
  deterministic(3),
  eightWafers('S-19a', [1, 0, 2], [0, 4, 0, 0], 47, DEPARTURES_102),
  eightWafers('S-19b', [0, 0, 0], [7, 5, 5, 0], 48, DEPARTURES_000),
  eightWafers('S-19c', [10, 10, 10], [0, 0, 0, 0], 47),
  ...longPaths,
]
