import type { Line, Step } from '../../sim/line/types.ts'
import { type Check, checksOf, type Figure } from './check.ts'
import { crewUtilisation, inBuffer, share, throughput } from './figures.ts'
import { exponential, serial, stepName } from './lines.ts'

/**
 * Lines whose tools share one repairer, first come first served. Endless supply, blocking
 * after service, failures that depend on operation; the failed tool goes on with the same wafer.
 */
const CHAIN = 'Markov chain of the line, computed independently; without the crew as Gershwin & Berman 1981'

const check = checksOf('unreliable lines')

interface Row {
  readonly id: string
  /** Length of all replications together. */
  readonly minutes: number
  readonly mu: readonly number[]
  readonly fails: readonly number[]
  readonly repaired: readonly number[]
  readonly places: readonly number[]
  readonly throughput: number
  /** Waiting for the repairer or under repair. */
  readonly down: readonly number[]
  readonly working: readonly number[]
  readonly blocked: readonly number[]
  readonly starved: readonly number[]
  readonly buffers: readonly number[]
}

const ROWS: readonly Row[] = [
  {
    id: 'U-07a',
    minutes: 4e6,
    mu: [1, 1],
    fails: [0.05, 0.05],
    repaired: [0.2, 0.2],
    places: [4],
    throughput: 0.6241532776580035,
    down: [0.16799521007318635, 0.1679952100731868],
    working: [0.6241532776580041, 0.6241532776580035],
    blocked: [0.20785151226880969, 0],
    starved: [0, 0.2078515122688097],
    buffers: [2],
  },
  {
    id: 'U-07b',
    minutes: 4e6,
    mu: [1, 1, 1],
    fails: [0.05, 0.05, 0.05],
    repaired: [0.2, 0.2, 0.2],
    places: [3, 3],
    throughput: 0.5275248621616793,
    down: [0.15231631311047925, 0.15034614973080965, 0.1534931180257095],
    working: [0.5275248621616799, 0.5275248621616797, 0.5275248621616792],
    blocked: [0.3201588247278411, 0.16447046482852265, 0],
    starved: [0, 0.15765852327898844, 0.31898201981261154],
    buffers: [1.8477450236637605, 1.1787747686078243],
  },
  {
    id: 'U-07c',
    minutes: 7e6,
    mu: [1.2, 1, 1.1],
    fails: [0.02, 0.05, 0.01],
    repaired: [0.2, 0.25, 0.1],
    places: [2, 4],
    throughput: 0.6552033940731042,
    down: [0.05927968963401311, 0.14122647534876162, 0.06204722542544707],
    working: [0.5460028283942543, 0.655203394073104, 0.5956394491573677],
    blocked: [0.3947174819717328, 0.0807179972673575, 0],
    starved: [0, 0.12285213331077617, 0.3423133254171855],
    buffers: [1.3618266193179558, 1.1675214918041639],
  },
]

function lineOf({ id, mu, fails, repaired, places }: Row): Line {
  const steps = mu.map((rate, tool): Omit<Step, 'step'> => {
    const [every, lasts] = [exponential(1 / fails[tool]), exponential(1 / repaired[tool])]
    return { cycle: exponential(1 / rate), stops: [{ stop: 'failure', every, lasts, skill: 'repairer' }] }
  })
  return { ...serial(id, steps, places), crews: { repairer: { heads: 1 } } }
}

function figuresOf({ fails, repaired, down, working, blocked, starved, buffers }: Row): Figure[] {
  const failures = working.map((share, tool) => share * fails[tool])
  const repairs = failures.map((rate, tool) => rate / repaired[tool])
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
  const shares = working.flatMap((work, tool) => {
    const name = stepName(tool)
    return [
      share(name, 'productive', work),
      share(name, 'unscheduledDown', repairs[tool]),
      share(name, 'waitingForCrew', down[tool] - repairs[tool]),
      share(name, 'blocked', blocked[tool]),
      share(name, 'starved', starved[tool]),
    ]
  })
  return [
    ...shares,
    ...buffers.map((expected, index) => inBuffer(`buffer ${index + 1}`, expected)),
    crewUtilisation(sum(repairs)),
  ]
}

export const REPAIR_CREW: readonly Check[] = ROWS.map(row => {
  const { id, mu, fails, repaired, places } = row
  const what = `${mu.length} exponential tools, rates ${mu.join(', ')}, fail ${fails.join(', ')}, repaired ${repaired.join(', ')}, places ${places.join(', ')}, one repairer`
  return check(id, what, CHAIN, lineOf(row), row.minutes, [throughput(row.throughput), ...figuresOf(row)])
})
