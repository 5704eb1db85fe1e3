import type { Time } from '../../sim/base/units.ts'
import type { Spread } from '../../sim/chance/spec.ts'
import type { Line, Step } from '../../sim/line/types.ts'
import { type Check, checksOf, type Figure } from './check.ts'
import { calls, crewUtilisation, p95WaitForCrew, share, waitForCrew } from './figures.ts'
import { exponential, minutes } from './lines.ts'

/**
 * Machine interference: N equal tools that always have work, and a crew that serves their
 * stops, first come first served. Availability is the share of time at work. Where a
 * source speaks of hours, an hour is a minute here.
 *
 * The tables give D, the share of calls that wait. A study reports no such share, but what follows from
 * it: a call finds the other tools as in a system with one tool less (arrival theorem), so D is the use of a
 * single repairer by one tool less, and with D come the mean and the 95th percentile of the wait.
 */
const MEMORY = '(value computed independently, citation from memory)'
const PECK_HAZELWOOD = 'Peck & Hazelwood 1958, Finite Queuing Tables, Wiley, rows for five machines'
const ROSS = 'Ross, Introduction to Probability Models, exercise (value computed independently)'
const HILLIER_LIEBERMAN =
  'Hillier & Lieberman, Introduction to Operations Research, exercise (value computed independently)'
const ASHCROFT = `Ashcroft 1950, Journal of the Royal Statistical Society B 12, 145-151 ${MEMORY}`

const check = checksOf('queueing')

/** Long against the time up: what the tools make does not matter here. */
const CYCLE = 20

function tools(
  id: string,
  count: number,
  heads: number,
  up: number,
  every: Spread<Time>,
  lasts: Spread<Time>,
): Line {
  const stop = { stop: 'failure', every, lasts, skill: 'repairers' }
  return {
    line: id,
    crews: { repairers: { heads } },
    route: [{ step: 'tools', tools: count, cycle: minutes(CYCLE * up), stops: [stop] }],
  }
}

/** Tools with exponential times up and down. */
function exponentialTools(id: string, count: number, heads: number, up: number, repair: number): Line {
  return tools(id, count, heads, up, exponential(up), exponential(repair))
}

/** Shares of time at work, under repair and waiting, use of the crew and its calls, from the first and the use of the crew. */
function figures(
  count: number,
  heads: number,
  up: number,
  { availability, utilisation }: { readonly availability: number; readonly utilisation: number },
): Figure[] {
  const repaired = (utilisation * heads) / count
  const waiting = 1 - availability - repaired
  const rate = (count * availability) / up
  return [
    share('tools', 'productive', availability),
    share('tools', 'unscheduledDown', repaired),
    share('tools', 'waitingForCrew', waiting),
    crewUtilisation(utilisation),
    calls(rate),
  ]
}

// ---- finite queuing tables -----------------------------------------------------------

/** X = T / (T + U), repairers, F = share of machines that run or are served. */
const TABLE = [
  [0.012, 1, 0.999403],
  [0.025, 1, 0.997316],
  [0.05, 1, 0.988579],
  [0.06, 1, 0.983195],
  [0.06, 2, 0.999352],
  [0.07, 1, 0.976676],
  [0.07, 2, 0.99897],
  [0.08, 1, 0.969],
  [0.08, 2, 0.998463],
  [0.09, 1, 0.960166],
  [0.09, 2, 0.997812],
  [0.1, 1, 0.950184],
  [0.1, 2, 0.997],
] as const

const MACHINES = 5

const finiteQueues = TABLE.map(([x, heads, running], index) => {
  // T = 1 min: F machines run or are served, in shares 1 - X and X.
  const up = (1 - x) / x
  const id = `Q-31${'abcdefghijklm'[index]}`
  const what = `five machines, ${heads === 1 ? 'one repairer' : 'two repairers'}, X = ${x}`
  return check(
    id,
    what,
    `${PECK_HAZELWOOD} (six digits computed independently)`,
    exponentialTools(id, MACHINES, heads, up, 1),
    4e5,
    [share('tools', 'productive', running * (1 - x)), share('tools', 'waitingForCrew', 1 - running)],
  )
})

const TABLE_ROW = {
  availability: 0.9601655590685294 * 0.91,
  utilisation: 0.9601655590685294 * 0.09 * MACHINES,
}

const EXPONENTIAL: readonly Check[] = [
  check(
    'Q-30a',
    'five machines, one repairer, X = 0.09: F',
    PECK_HAZELWOOD,
    exponentialTools('Q-30a', MACHINES, 1, 0.91 / 0.09, 1),
    1.2e6,
    figures(MACHINES, 1, 0.91 / 0.09, TABLE_ROW),
  ),
  check(
    'Q-30b',
    'five machines, one repairer, X = 0.09: D, the share of calls that wait, as the use of the repairer by four',
    `${PECK_HAZELWOOD}; arrival theorem: Sevcik & Mitrani 1981, Journal of the ACM 28, 358-371`,
    exponentialTools('Q-30b', MACHINES - 1, 1, 0.91 / 0.09, 1),
    1.6e6,
    [crewUtilisation(0.35001422576309255)],
  ),
  ...finiteQueues,
  check(
    'Q-32',
    'three tools, crew of two, up 10 h, repair 8 h',
    ROSS,
    exponentialTools('Q-32', 3, 2, 10, 8),
    1.3e7,
    [
      ...figures(3, 2, 10, { availability: 0.5321944809461235, utilisation: 0.6386333771353483 }),
      // A call finds both others down with the probability 8/40.5, then waits 4 h on average, exponentially.
      waitForCrew((4 * 8) / 40.5),
      p95WaitForCrew(4 * Math.log(8 / 40.5 / 0.05)),
    ],
  ),
  check(
    'Q-33',
    'two tools, one repairer, up 12 h, repair 8 h',
    HILLIER_LIEBERMAN,
    exponentialTools('Q-33', 2, 1, 12, 8),
    1.3e7,
    [
      ...figures(2, 1, 12, { availability: 0.5172413793103449, utilisation: 0.6896551724137931 }),
      // A call finds the other down with the probability 8/20, then waits 8 h on average, exponentially.
      waitForCrew(3.2),
      p95WaitForCrew(8 * Math.log(0.4 / 0.05)),
    ],
  ),
]

const OTHER_LAWS: readonly Check[] = [
  check(
    'Q-34',
    'six tools, one repairer, up 10, fixed repair of 1',
    ASHCROFT,
    tools('Q-34', 6, 1, 10, exponential(10), minutes(1)),
    1.2e6,
    figures(6, 1, 10, { availability: 0.8796426433604659, utilisation: 0.5277855860162797 }),
  ),
  ...(
    [
      ['exponential', exponential(50)],
      ['Weibull (shape 2)', { weibull: minutes(50), shape: 2 }],
      ['fixed', minutes(50)],
    ] as const
  ).map(([law, every], index) => {
    const id = `Q-35${'abc'[index]}`
    return check(
      id,
      `eight tools, crew of two, up 50 (${law}), repair 4: the same for every law of the time up`,
      `closed form; insensitivity: Baskett, Chandy, Muntz & Palacios 1975, Journal of the ACM 22 ${MEMORY}`,
      tools(id, 8, 2, 50, every, exponential(4)),
      4.5e6,
      figures(8, 2, 50, { availability: 0.9219036182524288, utilisation: 0.29500915784077725 }),
    )
  }),
]

/** Three tools whose calls come first and three that wait for them; who is being served is not interrupted. */
const PRIORITY: Line = {
  line: 'Q-36',
  crews: { repairers: { heads: 1 } },
  route: [
    { step: 'first', ...threeTools(1) },
    { buffer: 'store', capacity: 'unlimited' },
    { step: 'last', ...threeTools(0) },
  ],
}

/** By the calendar, so that it does not matter whether there are wafers. */
function threeTools(priority: number): Omit<Step, 'step'> {
  const stop = { stop: 'failure', counts: 'calendar time', skill: 'repairers', priority } as const
  return {
    tools: 3,
    cycle: minutes(CYCLE * 10),
    stops: [{ ...stop, every: exponential(10), lasts: exponential(2) }],
  }
}

const priority = check(
  'Q-36',
  'three tools before three others, one repairer, up 10, repair 2: who has priority waits half as long',
  `no pre-emption: Cobham 1954, Operations Research 2, 70-76; Markov chain of the six tools ${MEMORY}`,
  PRIORITY,
  1.6e6,
  [
    share('first', 'waitingForCrew', 0.13340847689242766),
    share('first', 'unscheduledDown', 0.14443192051792866),
    share('last', 'waitingForCrew', 0.25028604088030226),
    share('last', 'unscheduledDown', 0.12495232651994964),
    crewUtilisation(0.8081527411136349),
  ],
)

export const MACHINE_INTERFERENCE: readonly Check[] = [...EXPONENTIAL, ...OTHER_LAWS, priority]
