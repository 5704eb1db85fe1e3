import type { Step, Stop } from '../../sim/line/types.ts'
import { type Check, checksOf } from './check.ts'
import { inBuffer, share, throughput, within } from './figures.ts'
import { exponential, minutes, serial, stepName } from './lines.ts'

/**
 * Lines of tools that fail, endless supply, blocking after service, a failed tool goes on
 * with the same wafer. Unless said otherwise failures depend on operation: their clock
 * runs only while the tool works. All repairs at once, nobody waits for a crew.
 */
const MEMORY = '(value computed independently, citation from memory)'
const GERSHWIN_BERMAN = `Gershwin & Berman 1981, AIIE Transactions 13, 2-11 ${MEMORY}`
const CHAIN = 'Markov chain of the line, computed independently; model as Gershwin & Berman 1981'

const check = checksOf('unreliable lines')

/** A step that works `time` minutes on a wafer and fails at this rate per minute of the given clock. */
function failing(mean: number, fails: number, repaired: number, counts?: Stop['counts']): Omit<Step, 'step'> {
  const stop = { stop: 'failure', every: exponential(1 / fails), lasts: exponential(1 / repaired) }
  return { cycle: exponential(mean), stops: [counts ? { ...stop, counts } : stop] }
}

const fixedCycle = check(
  'U-02',
  'two tools with a fixed cycle of 1, up 100 and down 10 (exponential), no buffer',
  `E of the longer of two effective times, closed form; Buzacott 1967 gives 0.83333 for continuous flow ${MEMORY}`,
  serial(
    'U-02',
    [0, 1].map(() => ({
      cycle: minutes(1),
      stops: [{ stop: 'failure', every: exponential(100), lasts: exponential(10) }],
    })),
    [0],
  ),
  3e6,
  [throughput(0.833678969951168)],
)

/** A cycle so short against the times between failures that two tools are down at once in hardly any: 0.8001 at most. */
const NEARLY_CONTINUOUS = 0.1

const hardlyDiscrete = check(
  'U-01',
  'three tools with a short fixed cycle, up 100, 200 and 50, down 10, 10 and 5 (exponential), no buffers',
  `1 / (1 + sum of down / up) for continuous flow: Buzacott 1967, International Journal of Production Research 5, 183-200 ${MEMORY}`,
  serial(
    'U-01',
    [
      [100, 10],
      [200, 10],
      [50, 5],
    ].map(([up, down]) => ({
      cycle: minutes(NEARLY_CONTINUOUS),
      stops: [{ stop: 'failure', every: exponential(up), lasts: exponential(down) }],
    })),
    [0, 0],
  ),
  1e6,
  [
    throughput(0.8 / NEARLY_CONTINUOUS),
    ...within(0.05, [
      share('step 1', 'unscheduledDown', 0.08),
      share('step 2', 'unscheduledDown', 0.04),
      share('step 3', 'unscheduledDown', 0.08),
    ]),
  ],
)

// ---- exponential service, failure and repair --------------------------------------

interface Exponential {
  readonly id: string
  /** Length of all replications together. */
  readonly minutes: number
  readonly source: string
  readonly mu: readonly number[]
  readonly fails: readonly number[]
  readonly repaired: readonly number[]
  readonly places: readonly number[]
  readonly throughput: number
  readonly working: readonly number[]
  readonly down: readonly number[]
  readonly blocked: readonly number[]
  readonly starved: readonly number[]
  readonly buffers: readonly number[]
}

const EXPONENTIAL: readonly Exponential[] = [
  {
    id: 'U-05a',
    minutes: 4e6,
    source: GERSHWIN_BERMAN,
    mu: [1, 1],
    fails: [0.05, 0.05],
    repaired: [0.2, 0.2],
    places: [0],
    throughput: 0.506329113924,
    working: [0.506329113924, 0.506329113924],
    down: [0.126582278481, 0.126582278481],
    blocked: [0.367088607595, 0],
    starved: [0, 0.367088607595],
    buffers: [0],
  },
  {
    id: 'U-05b',
    minutes: 4e6,
    source: GERSHWIN_BERMAN,
    mu: [1, 1],
    fails: [0.05, 0.05],
    repaired: [0.2, 0.2],
    places: [4],
    throughput: 0.631094231016,
    working: [0.631094231016, 0.631094231016],
    down: [0.157773557754, 0.157773557754],
    blocked: [0.21113221123, 0],
    starved: [0, 0.21113221123],
    buffers: [2],
  },
  {
    id: 'U-05c',
    minutes: 8e6,
    source: GERSHWIN_BERMAN,
    mu: [1, 1],
    fails: [0.05, 0.05],
    repaired: [0.2, 0.2],
    places: [16],
    throughput: 0.715539674726,
    working: [0.715539674726, 0.715539674726],
    down: [0.178884918682, 0.178884918682],
    blocked: [0.105575406592, 0],
    starved: [0, 0.105575406592],
    buffers: [8],
  },
  {
    id: 'U-05d',
    minutes: 7e6,
    source: GERSHWIN_BERMAN,
    mu: [1, 0.9],
    fails: [0.02, 0.01],
    repaired: [0.1, 0.2],
    places: [5],
    throughput: 0.697603172703,
    working: [0.697603172703, 0.775114636337],
    down: [0.139520634541, 0.0387557318168],
    blocked: [0.162876192756, 0],
    starved: [0, 0.186129631847],
    buffers: [2.54819547058],
  },
  {
    id: 'U-06a',
    minutes: 7e6,
    source: CHAIN,
    mu: [1, 1, 1],
    fails: [0.05, 0.05, 0.05],
    repaired: [0.2, 0.2, 0.2],
    places: [3, 3],
    throughput: 0.541607799226,
    working: [0.541607799226, 0.541607799226, 0.541607799226],
    down: [0.135401949807, 0.135401949807, 0.135401949807],
    blocked: [0.322990250967, 0.164057154495, 0],
    starved: [0, 0.158933096472, 0.322990250967],
    buffers: [1.8532942471, 1.168271565],
  },
  {
    id: 'U-06b',
    minutes: 8e6,
    source: CHAIN,
    mu: [1.2, 1, 1.1],
    fails: [0.02, 0.05, 0.01],
    repaired: [0.2, 0.25, 0.1],
    places: [2, 4],
    throughput: 0.659867930844,
    working: [0.54988994237, 0.659867930844, 0.599879937131],
    down: [0.054988994237, 0.131973586169, 0.0599879937131],
    blocked: [0.395121063393, 0.0852031365082, 0],
    starved: [0, 0.122955346479, 0.340132069156],
    buffers: [1.36316478611, 1.1813528816],
  },
]

const exponentialLines = EXPONENTIAL.map(row => {
  const { id, mu, fails, repaired, places, buffers } = row
  const what = `${mu.length} exponential tools, rates ${mu.join(', ')}, fail ${fails.join(', ')}, repaired ${repaired.join(', ')}, places ${places.join(', ')}`
  const steps = mu.map((rate, tool) => failing(1 / rate, fails[tool], repaired[tool]))
  const shares = (['productive', 'unscheduledDown', 'blocked', 'starved'] as const).flatMap((state, index) =>
    [row.working, row.down, row.blocked, row.starved][index].map((expected, tool) =>
      share(stepName(tool), state, expected),
    ),
  )
  return check(id, what, row.source, serial(id, steps, places), row.minutes, [
    throughput(row.throughput),
    ...shares,
    ...buffers.flatMap((expected, index) =>
      expected > 0 ? [inBuffer(`buffer ${index + 1}`, expected)] : [],
    ),
  ])
})

/**
 * Which failures: by operation or by time, and what a tool that is down by time does.
 * Here it neither takes a wafer nor hands one on. With 4 places a down tool that did
 * both would give 0.6076446, without a buffer 0.4541114.
 */
const conventions = (
  [
    ['U-08a', 'running time', 4, 0.6310942310157267],
    ['U-08b', 'running time', 0, 0.5063291139240509],
    ['U-08c', 'calendar time', 4, 0.6067555853095343],
    ['U-08d', 'calendar time', 0, 0.4466019417475732],
  ] as const
).map(([id, counts, places, expected]) => {
  const steps = [0, 1].map(() => failing(1, 0.05, 0.2, counts))
  const what = `two exponential tools that fail by ${counts}, ${places} places`
  const source = `Markov chain, computed independently; conventions as in Gershwin 1994 and Li & Meerkov`
  return check(id, what, source, serial(id, steps, [places]), 3e6, [throughput(expected)])
})

export const UNRELIABLE_LINES: readonly Check[] = [
  hardlyDiscrete,
  fixedCycle,
  ...exponentialLines,
  ...conventions,
]
