import type { Step } from '../../sim/line/types.ts'
import { type Check, checksOf } from './check.ts'
import { inBuffer, inLine, share, throughput } from './figures.ts'
import { minutes, serial, stepName } from './lines.ts'

/**
 * Lines of tools in step that fail, endless supply, blocking after service, a failed
 * tool goes on with the same wafer.
 *
 * Gershwin's deterministic model: fixed cycles in step. At the start of an operation the
 * tool fails with probability p; a down tool is repaired with probability r at the start
 * of a cycle and works in it. So the wafers between two failures are geometric with mean
 * 1/p, at least one, and repairs whole cycles, geometric with mean 1/r.
 *
 * Two tools: his buffer limit N is two more than the places between the tools. His level
 * counts the wafer in work at the second tool and a finished one that the first holds,
 * not the one in work at the first: by flow balance the wafers in the line are the level
 * plus efficiency / e1, e1 = r1/(r1 + p1), and the first tool is blocked for 1 -
 * efficiency / e1 of the time, the second starved for 1 - efficiency / e2.
 */
const GERSHWIN =
  'Gershwin 1994, Manufacturing Systems Engineering, ch. 3 (value computed independently, citation from memory)'
const GERSHWIN_SCHICK =
  'model of Gershwin & Schick 1983, Operations Research 31, first page seen; parameters ours, value computed independently'

const check = checksOf('unreliable lines')

/** A tool that fails with probability p at each start and is repaired with probability r in each cycle. */
function inStep(fails: number, repaired: number): Omit<Step, 'step'> {
  const lasts = { geometric: minutes(1 / repaired), step: '1 min' } as const
  return {
    cycle: '1 min',
    stops: [{ stop: 'failure', counts: 'wafers', every: { geometric: 1 / fails }, lasts }],
  }
}

interface TwoInStep {
  readonly id: string
  /** Length of all replications together. */
  readonly minutes: number
  readonly p: readonly [number, number]
  readonly r: readonly [number, number]
  readonly places: number
  readonly efficiency: number
  readonly level: number
}

const TWO_IN_STEP: readonly TwoInStep[] = [
  { id: 'U-03a', p: [0.1, 0.1], r: [0.1, 0.1], places: 2, efficiency: 0.359375, level: 2, minutes: 1.2e7 },
  {
    id: 'U-03b',
    p: [0.1, 0.1],
    r: [0.1, 0.1],
    places: 8,
    efficiency: 0.397727272727,
    level: 5,
    minutes: 8e6,
  },
  { id: 'U-03c', p: [0.1, 0.1], r: [0.1, 0.1], places: 18, efficiency: 0.4296875, level: 10, minutes: 1.2e7 },
  {
    id: 'U-03d',
    p: [0.1, 0.1],
    r: [0.1, 0.1],
    places: 48,
    efficiency: 0.463709677419,
    level: 25,
    minutes: 6e7,
  },
  {
    id: 'U-03e',
    p: [0.1, 0.1],
    r: [0.06, 0.1],
    places: 8,
    efficiency: 0.32270614744,
    level: 3.68664178292,
    minutes: 2.6e7,
  },
  {
    id: 'U-03f',
    p: [0.1, 0.1],
    r: [0.14, 0.1],
    places: 8,
    efficiency: 0.436542128874,
    level: 5.86118365188,
    minutes: 1.2e7,
  },
  {
    id: 'U-03g',
    p: [0.1, 0.1],
    r: [0.14, 0.1],
    places: 28,
    efficiency: 0.480481693447,
    level: 19.711336017,
    minutes: 1.7e7,
  },
  {
    id: 'U-03h',
    p: [0.01, 0.01],
    r: [0.1, 0.1],
    places: 2,
    efficiency: 0.840936136454,
    level: 2,
    minutes: 4e6,
  },
  {
    id: 'U-03i',
    p: [0.01, 0.01],
    r: [0.1, 0.1],
    places: 18,
    efficiency: 0.870540722459,
    level: 10,
    minutes: 6e7,
  },
  {
    id: 'U-03j',
    p: [0.01, 0.02],
    r: [0.1, 0.15],
    places: 8,
    efficiency: 0.838887866715,
    level: 6.092934949,
    minutes: 1e7,
  },
]

const twoInStep = TWO_IN_STEP.map(({ id, p, r, places, efficiency, level, minutes: length }) => {
  const alone = p.map((_, tool) => r[tool] / (r[tool] + p[tool]))
  const steps = p.map((_, tool) => inStep(p[tool], r[tool]))
  const what = `two tools in step, p ${p.join(', ')}, r ${r.join(', ')}, ${places} places`
  return check(id, what, GERSHWIN, serial(id, steps, [places]), length, [
    throughput(efficiency),
    inLine(level + efficiency / alone[0]),
    share('step 1', 'blocked', 1 - efficiency / alone[0]),
    share('step 2', 'starved', 1 - efficiency / alone[1]),
    ...p.map((_, tool) => share(stepName(tool), 'unscheduledDown', (efficiency * p[tool]) / r[tool])),
  ])
})

interface ManyInStep {
  readonly id: string
  /** Length of all replications together. */
  readonly minutes: number
  readonly p: readonly number[]
  readonly r: number
  readonly places: number
  readonly efficiency: number
  readonly down: readonly number[]
  readonly buffers: readonly number[]
}

const MANY_IN_STEP: readonly ManyInStep[] = [
  {
    id: 'U-04a',
    minutes: 9e6,
    p: [0.05, 0.05, 0.05],
    r: 0.2,
    places: 3,
    efficiency: 0.645164690324,
    down: [0.161291172581, 0.161291172581, 0.161291172581],
    buffers: [1.86823980972, 1.13369209802],
  },
  {
    id: 'U-04b',
    minutes: 5e7,
    p: [0.01, 0.02, 0.01],
    r: 0.1,
    places: 4,
    efficiency: 0.746267639628,
    down: [0.0746267639628, 0.149253527926, 0.0746267639628],
    buffers: [2.94427393508, 1.05596773075],
  },
  {
    id: 'U-04c',
    minutes: 1.6e7,
    p: [0.05, 0.05, 0.05, 0.05],
    r: 0.2,
    places: 2,
    efficiency: 0.584416952539,
    down: [0.146104238135, 0.146104238135, 0.146104238135, 0.146104238135],
    buffers: [1.38821468983, 1.00129189947, 0.614158321298],
  },
  {
    id: 'U-04d',
    minutes: 2e7,
    p: [0.05, 0.05, 0.05, 0.05, 0.05],
    r: 0.2,
    places: 2,
    efficiency: 0.553531438711,
    down: [0.138382859678, 0.138382859678, 0.138382859678, 0.138382859678, 0.138382859678],
    buffers: [1.46250562277, 1.14192679909, 0.862488775545, 0.541089972759],
  },
]

const manyInStep = MANY_IN_STEP.map(({ id, minutes: length, p, r, places, efficiency, down, buffers }) =>
  check(
    id,
    `${p.length} tools in step, p ${p.join(', ')}, r ${r}, ${places} places`,
    GERSHWIN_SCHICK,
    serial(
      id,
      p.map(fails => inStep(fails, r)),
      buffers.map(() => places),
    ),
    length,
    [
      throughput(efficiency),
      ...down.map((expected, tool) => share(stepName(tool), 'unscheduledDown', expected)),
      ...buffers.map((expected, index) => inBuffer(`buffer ${index + 1}`, expected)),
    ],
  ),
)

export const UNRELIABLE_IN_STEP: readonly Check[] = [...twoInStep, ...manyInStep]
