import type { Estimate } from '../../sim/stats/estimate.ts'
import type {
  PlaceFigures,
  RunStudy,
  StateShares,
  StepFigures,
  StopFigures,
} from '../../sim/study/run-study.ts'

/** An estimate from `mean` and half-width; without a half-width that of one replication. */
export function estimate(mean: number, half?: number, n = 10): Estimate {
  return half === undefined ? { mean, n: 1 } : { mean, low: mean - half, high: mean + half, n }
}

const none = estimate(0, 0)

/** Shares of time in the order productive, starved, blocked, unscheduled down, scheduled down. */
export function states(
  productive: number,
  starved: number,
  blocked: number,
  unscheduled: number,
  scheduled: number,
): StateShares {
  return {
    productive: estimate(productive, 0.002),
    starved: estimate(starved, 0.002),
    blocked: estimate(blocked, 0.002),
    engineering: none,
    scheduledDown: estimate(scheduled, 0.0004),
    unscheduledDown: estimate(unscheduled, 0.0012),
    waitingForCrew: none,
    nonScheduled: none,
  }
}

export function step(
  name: string,
  kind: StepFigures['kind'],
  shares: StateShares,
  more: Partial<StepFigures> = {},
): StepFigures {
  return {
    name,
    kind,
    tools: 2,
    startsPerHour: estimate(6590.3, 17.2),
    passedPerHour: estimate(6571.8, 17.1),
    staticPerHour: 7012.345,
    states: shares,
    oee: {
      availability: estimate(0.962, 0.0011),
      performance: estimate(0.981, 0.0009),
      quality: estimate(0.9972, 0.00004),
      oee: estimate(0.9411, 0.0016),
    },
    broken: estimate(0.00042, 0.00003),
    rejected: none,
    reworked: none,
    setUp: none,
    lost: estimate(0.00011, 0.00004),
    yield: estimate(0.99947, 0.00005),
    wip: estimate(1.874, 0.006),
    stops: [],
    each: [],
    ...more,
  }
}

export function stop(name: string, hoursPerDay: number, more: Partial<StopFigures> = {}): StopFigures {
  return {
    stop: name,
    kind: 'unscheduled',
    perDay: estimate(9.31, 0.42),
    hoursPerDay: estimate(hoursPerDay, 0.061),
    meanMinutes: estimate(7.94, 0.33),
    longestMinutes: 61.27,
    lostPerDay: estimate(18.6, 0.9),
    waitHoursPerDay: estimate(0, 0),
    ...more,
  }
}

const places: PlaceFigures[] = [
  { name: 'gate', kind: 'gate', wip: none, stayHours: none },
  {
    name: 'texture',
    kind: 'step',
    capacity: 480,
    wip: estimate(431.7, 1.2),
    stayHours: estimate(0.0655, 0.0002),
  },
  {
    name: '=HYPERLINK("x")',
    kind: 'buffer',
    capacity: 2000,
    wip: estimate(812.4, 61),
    stayHours: estimate(0.1233, 0.009),
  },
  {
    name: 'diffusion',
    kind: 'step',
    capacity: 6000,
    wip: estimate(5611, 8.4),
    stayHours: estimate(0.8513, 0.0021),
  },
  { name: 'printer queue', kind: 'buffer', wip: estimate(93.2, 4.1), stayHours: estimate(0.0141, 0.0006) },
  {
    name: 'front print',
    kind: 'step',
    capacity: 3,
    wip: estimate(2.61, 0.01),
    stayHours: estimate(0.0004, 0.00001),
  },
]

/** A made-up result of a run of four steps, complete in every field. */
export const study: RunStudy = {
  line: 'Fixture line',
  notes: [],
  seed: '1',
  version: '0.1.0',
  drive: 'eager',
  days: 10,
  replications: 10,
  level: 0.95,
  warmUp: { cutHours: 12.5, foundHours: 12.5, windowHours: 227.5, settled: true },
  goodOutput: {
    perHour: estimate(6512.34, 18.4),
    megawattPerYear: estimate(396.42, 1.13),
    efficiency: estimate(0.228034, 0.000021),
    shareOfTarget: estimate(0.9303, 0.0026),
    targetPerHour: 7000,
  },
  startedPerHour: estimate(6654.1, 18.9),
  yield: estimate(0.97869, 0.00013),
  turnedAwayPerHour: none,
  wip: estimate(6950.9, 63),
  throughputHours: {
    mean: estimate(1.0446, 0.0094),
    median: estimate(1.0211, 0.0088),
    p95: estimate(1.4402, 0.021),
  },
  throughputClasses: [
    { from: 0.8, to: 1, share: estimate(0.41, 0.01) },
    { from: 1, to: 1.2, share: estimate(0.42, 0.01) },
    { from: 1.2, to: 1.6, share: estimate(0.17, 0.01) },
  ],
  steps: [
    step('texture', 'belt', states(0.871, 0.004, 0.104, 0.015, 0.006), {
      stops: [stop('bath change', 0.52, { kind: 'scheduled' })],
    }),
    step('diffusion', 'batch', states(0.912, 0.02, 0.038, 0.024, 0.006)),
    step('front print', 'single', states(0.931, 0.006, 0.003, 0.054, 0.006), {
      stops: [stop('screen breakage', 3.71), stop('paste refill', 1.24, { kind: 'scheduled' })],
    }),
    step('test and sort', 'single', states(0.803, 0.172, 0, 0.021, 0.004), {
      rejected: estimate(0.0093, 0.0001),
      yield: estimate(0.99017, 0.0001),
      passedPerHour: estimate(6512.34, 18.4),
      stops: [
        stop('jam', 0.31),
        stop('never seen', 0, { perDay: none, hoursPerDay: none, meanMinutes: { mean: 0, n: 0 } }),
      ],
    }),
  ],
  crews: [],
  losses: { timeLimits: [], hiddenDefects: [] },
  places,
  bins: [
    { bin: 0, to: 0.22, share: estimate(0.0012, 0.0001) },
    { bin: 1, from: 0.22, to: 0.224, share: estimate(0.1123, 0.0009) },
    { bin: 2, from: 0.224, share: estimate(0.8865, 0.001) },
  ],
  series: {
    hours: [1, 2, 3],
    goodPerHour: [0, 5120.5, 6498],
    wip: [3100, 6720, 6950],
    placeWip: [
      [0, 0, 0],
      [430, 431, 432],
      [100, 700, 812],
      [2500, 5500, 5600],
      [40, 80, 93],
      [2, 3, 3],
    ],
  },
  audit: {
    wafersIn: 15970000,
    good: 15629616,
    broken: 27149,
    rejected: 146924,
    lost: 1757,
    inside: 164554,
    littleGap: 3.1e-13,
    passed: true,
    faults: [],
  },
  waferSteps: 63_150_000,
  warnings: [],
}

/** The fixture after one replication: no figure has an interval. */
export function singleReplication(): RunStudy {
  const bare = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(bare)
    if (value === null || typeof value !== 'object') return value
    const { low: _low, high: _high, ...rest } = value as Record<string, unknown>
    const kept = Object.entries(rest).map(([key, item]) => [
      key,
      key === 'n' ? Math.min(1, Number(item)) : bare(item),
    ])
    return Object.fromEntries(kept)
  }
  return { ...(bare(study) as RunStudy), replications: 1 }
}

/** What a study of designs says of its runs. */
export const studyHead = {
  line: 'test line',
  seed: '1',
  version: '0.1.0',
  drive: 'eager' as const,
  days: 3,
  replications: 4,
  level: 0.95,
}
