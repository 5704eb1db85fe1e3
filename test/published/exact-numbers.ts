import tychei from 'seedrandom/lib/tychei.js'
import { capacityTable } from '../../sim/line/capacity.ts'
import type { Step, Stop } from '../../sim/line/types.ts'
import { batchMeansEstimate } from '../../sim/stats/batch-means.ts'
import { type Estimate, estimateFromMoments, halfWidth } from '../../sim/stats/estimate.ts'
import { quantile } from '../../sim/stats/quantile.ts'
import { equalShareEdges, minimumOfNormals, sortedStringMinimum } from '../../sim/stats/string-match.ts'
import { studentFactor } from '../../sim/stats/student.ts'
import { lag1Autocorrelation, mean, standardDeviation } from '../../sim/stats/summary.ts'
import { mser5 } from '../../sim/stats/warm-up-cut.ts'
import type { ExactFigure, NumberCheck } from './check.ts'
import series from './data/mser5-series.json' with { type: 'json' }
import lew from './data/nist-lew.json' with { type: 'json' }
import lottery from './data/nist-lottery.json' with { type: 'json' }
import mavro from './data/nist-mavro.json' with { type: 'json' }
import michelso from './data/nist-michelso.json' with { type: 'json' }
import { MONEY } from './money.ts'
import { SELECTION } from './selection.ts'
import { WAFERS } from './wafers.ts'

/**
 * Numbers that functions of the simulator must return: one or a few of each kind, so that
 * a run of all checks shows what the figures of a report rest on. The tests beside this
 * file have many more.
 */
const DIGITS_12 = 1e-12
const SIX_DECIMALS = 5.1e-7
const MEMORY = '(value computed independently, citation from memory)'

function figure(name: string, expected: number, tolerance: number, find: () => number): ExactFigure {
  return { name, expected, tolerance, find }
}

const NIST: readonly NumberCheck[] = (
  [
    ['T-01', 'Lew', lew],
    ['T-02', 'Mavro', mavro],
    ['T-03', 'Michelso', michelso],
    ['T-04', 'Lottery', lottery],
  ] as const
).map(([id, name, { values, certified }]) => ({
  id,
  family: 'statistics',
  what: `certified data set ${name}, ${values.length} values`,
  source: `NIST Statistical Reference Datasets, ${name}`,
  figures: [
    figure('mean', certified.mean, DIGITS_12, () => mean(values)),
    figure('standard deviation', certified.sd, DIGITS_12, () => standardDeviation(values)),
    figure('lag-1 autocorrelation', certified.lag1, DIGITS_12, () => lag1Autocorrelation(values)),
  ],
}))

const heatFlow = (): Estimate => estimateFromMoments(9.261460759, 0.02278879742, 195, 0.95)
const TEN_VALUES = [1.5, 2.2, 2.9, 3.2, 4.8, 5.5, 6.1, 7.3, 8, 9.1]

const STATISTICS: readonly NumberCheck[] = [
  ...NIST,
  {
    id: 'T-09',
    family: 'statistics',
    what: '95 % interval of the heat flow data, 195 values',
    source: 'NIST/SEMATECH e-Handbook 1.3.5.2, as in the Boost.Math documentation',
    figures: [
      figure('lower end', 9.258242137328875, 1e-9, () => heatFlow().low ?? Number.NaN),
      figure('upper end', 9.264679380619842, 1e-9, () => heatFlow().high ?? Number.NaN),
    ],
  },
  {
    id: 'T-10',
    family: 'statistics',
    what: 'Student factors at 90, 95 and 99 %, 9 degrees of freedom',
    source: 'NIST/SEMATECH e-Handbook 1.3.6.7.2',
    figures: [
      figure('t 0.95', 1.833113, SIX_DECIMALS / 1.8, () => studentFactor(0.9, 9)),
      figure('t 0.975', 2.262157, SIX_DECIMALS / 2.2, () => studentFactor(0.95, 9)),
      figure('t 0.995', 3.249836, SIX_DECIMALS / 3.2, () => studentFactor(0.99, 9)),
    ],
  },
  {
    id: 'T-21',
    family: 'statistics',
    what: 'MSER-5 on a decaying series of 100 values',
    source: 'White 1997, Simulation 69, 323-334; Spratt 1998 (figures by arithmetic from the definition)',
    figures: [
      figure('observations cut', 40, 0, () => mser5(series.values).observations),
      figure('statistic there', 0.006149907407407409, 1e-8, () => mser5(series.values).statistic),
    ],
  },
  {
    id: 'T-24',
    family: 'statistics',
    what: 'Lew in 10 batches of 20, 95 %',
    source: 'NIST Statistical Reference Datasets, Lew (value computed independently)',
    figures: [
      figure(
        'half-width',
        8.488299937914169,
        1e-9,
        () => halfWidth(batchMeansEstimate(lew.values, 10, 0.95)) ?? Number.NaN,
      ),
    ],
  },
  {
    id: 'T-33',
    family: 'statistics',
    what: 'quantiles of ten values, type 7',
    source: `Hyndman & Fan 1996, The American Statistician 50, 361-365 ${MEMORY}`,
    figures: [
      figure('quantile 0.05', 1.815, DIGITS_12, () => quantile(TEN_VALUES, 0.05)),
      figure('quantile 0.9', 8.11, DIGITS_12, () => quantile(TEN_VALUES, 0.9)),
    ],
  },
]

const TYCHEI = [0.4676165450364351, 0.794256798690185, 0.8909397614188492]

const RANDOM_NUMBERS: readonly NumberCheck[] = [
  {
    id: 'R-04',
    family: 'random numbers',
    what: 'the generator behind every stream, Tyche-i, seed "hello."',
    source: 'seedrandom 3.0.5, run once: pins the version',
    figures: TYCHEI.map((expected, index) =>
      figure(`value ${index + 1}`, expected, 0, () => {
        const next = tychei('hello.')
        return Array.from({ length: index + 1 }, () => next())[index]
      }),
    ),
  },
]

const STRINGS: readonly NumberCheck[] = [
  {
    id: 'M-01',
    family: 'string mismatch',
    what: 'least of n standard normal cells, mean',
    source: 'Harter 1961, Biometrika 48; Teichroew 1956 (citations from memory, digits by integration)',
    figures: (
      [
        [10, -1.538753],
        [60, -2.319278],
        [144, -2.635271],
      ] as const
    ).map(([n, expected]) =>
      figure(`n ${n}`, expected, SIX_DECIMALS / -expected, () => minimumOfNormals(n).mean),
    ),
  },
  {
    id: 'M-05',
    family: 'string mismatch',
    what: 'strings of 60 cells sorted into bins of equal shares',
    source: 'derived, no printed source',
    figures: (
      [
        [1, -2.319278],
        [4, -0.693021],
        [8, -0.37224],
      ] as const
    ).map(([bins, expected]) =>
      figure(`${bins} ${bins === 1 ? 'bin' : 'bins'}`, expected, SIX_DECIMALS / -expected, () =>
        sortedStringMinimum(60, equalShareEdges(bins)),
      ),
    ),
  },
]

/** What the paper capacity says of one step, good wafers an hour. */
function onPaper(step: Omit<Step, 'step'>): number {
  const store = { buffer: 'store', capacity: 4800 }
  return capacityTable({ line: 'paper', route: [store, { step: 'tools', ...step }] })[0].goodPerHour
}

const TUBES = {
  tools: 4,
  batch: { load: 1200, time: '55 min', loading: '2 min', unloading: '3 min' },
} as const
const TOOLS = { tools: 3, cycle: '1.2 s', reject: '0.2 %' } as const
const BELT = { belt: { length: '6.6 m', speed: '6 m/min', pitch: '0.2 m', lanes: 2 } } as const

const FIRST = { stop: 'first', every: '100 s', lasts: '10 s' } as const
const SECOND = { stop: 'second', every: '50 s', lasts: `${20 / 3} s` } as const

/** Share of the time that a tool with these stops is up on paper. */
function upOf(...stops: readonly Stop[]): number {
  return capacityTable({ line: 'paper', route: [{ step: 'tool', cycle: '1 s', stops }] })[0].availability
}

const CAPACITY: readonly NumberCheck[] = [
  {
    id: 'B-01',
    family: 'capacity',
    what: 'on paper: tubes, tools and a belt of B-01 to B-03, good wafers an hour',
    source: 'arithmetic',
    figures: [
      figure('four tubes', 4800, DIGITS_12, () => onPaper(TUBES)),
      figure('four tubes, up for 0.93 of the time', 4464, DIGITS_12, () =>
        onPaper({
          ...TUBES,
          stops: [{ stop: 'failure', counts: 'calendar time', every: '93 h', lasts: '7 h' }],
        }),
      ),
      figure('three tools, up for 0.95 of the time', 8532.9, DIGITS_12, () =>
        onPaper({ ...TOOLS, stops: [{ stop: 'jam', every: '19 min', lasts: '1 min' }] }),
      ),
      figure('a belt', 3600, DIGITS_12, () => onPaper(BELT)),
    ],
  },
  {
    id: 'U-10',
    family: 'capacity',
    what: 'on paper: tools that fail after 100 and 50 cycles and are repaired in 10 and 6 2/3, alone and one behind the other',
    source: `Buzacott 1967, International Journal of Production Research 5, 183-200 ${MEMORY}`,
    figures: [
      figure('first alone', 0.9090909090909092, DIGITS_12, () => upOf(FIRST)),
      figure('second alone', 0.8823529411764705, DIGITS_12, () => upOf(SECOND)),
      figure('no place between, by operation', 0.8108108108108107, DIGITS_12, () => upOf(FIRST, SECOND)),
    ],
  },
]

export const EXACT_NUMBERS: readonly NumberCheck[] = [
  ...CAPACITY,
  ...STATISTICS,
  ...SELECTION,
  ...MONEY,
  ...WAFERS,
  ...RANDOM_NUMBERS,
  ...STRINGS,
]
