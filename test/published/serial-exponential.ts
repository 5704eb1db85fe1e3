import { type Check, checksOf } from './check.ts'
import { inBuffer, inLine, share, throughput, timeInLine } from './figures.ts'
import { equalSteps, exponential, serial, stepName } from './lines.ts'

/**
 * Balanced lines of exponential stations (mean 1), endless supply, blocking after
 * service, the same number of places between any two. Places exclude the stations:
 * sources that count the place on the downstream station print one more.
 *
 * All values are exact solutions of the Markov chain of the line (up to 1189 states),
 * computed independently; citations from memory. Of Hillier & Boling the table itself
 * was not at hand.
 */
const HUNT = 'Hunt 1956, Operations Research 4, 674-683'
const TWO = '(q + 2)/(q + 3) for q places, closed form; Hunt 1956, Operations Research 4, 674-683'
const HILLIER = 'Hillier & Boling 1967, Operations Research 15, 286-303'

interface Balanced {
  readonly id: string
  readonly stations: number
  readonly places: number
  readonly source: string
  readonly throughput: number
  /** Wafers on stations, working or blocked, and in buffers. */
  readonly inLine: number
  readonly time: number
  /** By station: share of time. The rest of the time, less the work (throughput x 1 min), it is starved. */
  readonly blocked: readonly number[]
  /** By buffer: wafers. */
  readonly buffers: readonly number[]
}

const LINES: readonly Balanced[] = [
  {
    id: 'S-01',
    stations: 2,
    places: 0,
    source: HUNT,
    throughput: 0.666666666667,
    inLine: 1.66666666667,
    time: 2.5,
    blocked: [0.333333333333, 0],
    buffers: [0],
  },
  {
    id: 'S-02',
    stations: 3,
    places: 0,
    source: HUNT,
    throughput: 0.564102564103,
    inLine: 2.35897435897,
    time: 4.18181818182,
    blocked: [0.435897435897, 0.230769230769, 0],
    buffers: [0, 0],
  },
  {
    id: 'S-03',
    stations: 4,
    places: 0,
    source: HUNT,
    throughput: 0.514775489318,
    inLine: 3.06460278879,
    time: 5.95328031809,
    blocked: [0.485224510682, 0.329154407062, 0.191121913778, 0],
    buffers: [0, 0, 0],
  },
  {
    id: 'S-04a',
    stations: 2,
    places: 1,
    source: TWO,
    throughput: 0.75,
    inLine: 2.25,
    time: 3,
    blocked: [0.25, 0],
    buffers: [0.5],
  },
  {
    id: 'S-04b',
    stations: 2,
    places: 2,
    source: TWO,
    throughput: 0.8,
    inLine: 2.8,
    time: 3.5,
    blocked: [0.2, 0],
    buffers: [1],
  },
  {
    id: 'S-04c',
    stations: 2,
    places: 4,
    source: TWO,
    throughput: 0.857142857143,
    inLine: 3.85714285714,
    time: 4.5,
    blocked: [0.142857142857, 0],
    buffers: [2],
  },
  {
    id: 'S-04d',
    stations: 2,
    places: 10,
    source: TWO,
    throughput: 0.923076923077,
    inLine: 6.92307692308,
    time: 7.5,
    blocked: [0.0769230769231, 0],
    buffers: [5],
  },
  {
    id: 'S-05a',
    stations: 3,
    places: 1,
    source: HILLIER,
    throughput: 0.670466158321,
    inLine: 3.53179781464,
    time: 5.26767499121,
    blocked: [0.329533841679, 0.17317820926, 0],
    buffers: [0.622828393994, 0.394858894741],
  },
  {
    id: 'S-05b',
    stations: 3,
    places: 2,
    source: HILLIER,
    throughput: 0.73401667214,
    inLine: 4.63348409817,
    time: 6.31250525232,
    blocked: [0.26598332786, 0.138417827401, 0],
    buffers: [1.22092030522, 0.806112621276],
  },
  {
    id: 'S-05c',
    stations: 3,
    places: 3,
    source: HILLIER,
    throughput: 0.776711532515,
    inLine: 5.70014631825,
    time: 7.33882024359,
    blocked: [0.223288467485, 0.115326784105, 0],
    buffers: [1.80592446146, 1.22547200765],
  },
  {
    id: 'S-05d',
    stations: 3,
    places: 4,
    source: HILLIER,
    throughput: 0.807485909721,
    inLine: 6.74702197545,
    time: 8.35559096973,
    blocked: [0.192514090279, 0.0988770048868, 0],
    buffers: [2.38347496017, 1.64969819095],
  },
  {
    id: 'S-05e',
    stations: 3,
    places: 6,
    source: HILLIER,
    throughput: 0.848990656101,
    inLine: 8.80825110702,
    time: 10.3749682564,
    blocked: [0.151009343899, 0.0769814908619, 0],
    buffers: [3.52652908656, 2.5067592174],
  },
  {
    id: 'S-05f',
    stations: 3,
    places: 8,
    source: HILLIER,
    throughput: 0.875734479928,
    inLine: 10.8462381563,
    time: 12.3853044558,
    blocked: [0.124265520072, 0.0630555660288, 0],
    buffers: [4.66126125211, 3.37045237835],
  },
  {
    id: 'S-06a',
    stations: 4,
    places: 1,
    source: HILLIER,
    throughput: 0.631152685377,
    inLine: 4.82906388558,
    time: 7.65118171477,
    blocked: [0.368847314623, 0.246096435272, 0.144787963694, 0],
    buffers: [0.676681919966, 0.518360785419, 0.349678725101],
  },
  {
    id: 'S-06b',
    stations: 4,
    places: 2,
    source: HILLIER,
    throughput: 0.7007129023,
    inLine: 6.48214717153,
    time: 9.25078894687,
    blocked: [0.2992870977, 0.197291199474, 0.115973365933, 0],
    buffers: [1.31712922613, 1.02703251254, 0.722582160555],
  },
  {
    id: 'S-06c',
    stations: 4,
    places: 4,
    source: HILLIER,
    throughput: 0.781776022408,
    inLine: 9.65041258195,
    time: 12.3442166367,
    blocked: [0.218223977592, 0.141929272878, 0.0829243843108, 0],
    buffers: [2.5508104848, 2.03179407652, 1.49762629621],
  },
  {
    id: 'S-07a',
    stations: 5,
    places: 0,
    source: HILLIER,
    throughput: 0.485798121569,
    inLine: 3.77855999508,
    time: 7.77804570934,
    blocked: [0.514201878431, 0.38322979949, 0.281802378319, 0.17033533099, 0],
    buffers: [0, 0, 0, 0],
  },
  {
    id: 'S-07b',
    stations: 5,
    places: 1,
    source: HILLIER,
    throughput: 0.607583286106,
    inLine: 6.13539396782,
    time: 10.0980295346,
    blocked: [0.392416713894, 0.286641020933, 0.211014963387, 0.130047115654, 0],
    buffers: [0.706736350257, 0.578867030417, 0.467241576887, 0.324512765855],
  },
  {
    id: 'S-07c',
    stations: 5,
    places: 3,
    source: HILLIER,
    throughput: 0.729947941022,
    inLine: 10.4704242615,
    time: 14.3440698618,
    blocked: [0.270052058978, 0.193245135858, 0.141131675608, 0.087028316918, 0],
    buffers: [2.01414185882, 1.67780994153, 1.39734102552, 1.03993454312],
  },
  {
    id: 'S-07d',
    stations: 6,
    places: 0,
    source: HILLIER,
    throughput: 0.466713263007,
    inLine: 4.49826469124,
    time: 9.63817625893,
    blocked: [0.533286736993, 0.417371240472, 0.3348474266, 0.254898480714, 0.157581228421, 0],
    buffers: [0, 0, 0, 0, 0],
  },
  {
    id: 'S-07e',
    stations: 8,
    places: 0,
    source: HILLIER,
    throughput: 0.443070266522,
    inLine: 5.94935312505,
    time: 13.4275612122,
    blocked: [
      0.556929733478, 0.458076884484, 0.394424137001, 0.34048758419, 0.286778011572, 0.225339502426,
      0.142755139717, 0,
    ],
    buffers: [0, 0, 0, 0, 0, 0, 0],
  },
]

const check = checksOf('serial lines')

export const SERIAL_EXPONENTIAL: readonly Check[] = LINES.map(row => {
  const { id, stations, places, source, blocked, buffers } = row
  const starved = blocked.map((share, index) => (index === 0 ? 0 : 1 - row.throughput - share))
  return check(
    id,
    `${stations} exponential stations, ${places} ${places === 1 ? 'place' : 'places'} between`,
    `${source} (value computed independently, citation from memory)`,
    serial(id, equalSteps(stations, exponential(1)), Array(stations - 1).fill(places)),
    // The more places, the longer a disturbance stays in the line.
    places < 2 ? 2e6 : 4e6,
    [
      throughput(row.throughput),
      inLine(row.inLine),
      timeInLine(row.time),
      ...blocked.map((expected, index) => share(stepName(index), 'blocked', expected)),
      ...starved.map((expected, index) => share(stepName(index), 'starved', expected)),
      ...(places > 0 ? buffers.map((expected, index) => inBuffer(`buffer ${index + 1}`, expected)) : []),
    ],
  )
})
