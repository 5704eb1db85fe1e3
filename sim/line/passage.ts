import { quantity } from '../base/quantity.ts'
import { allItems, laneRoutes } from './items.ts'
import { joined, type Made, madeBy, meanMade, shareBelow, treated } from './made.ts'
import type { Group, Route, Step, WaferKind } from './types.ts'

/**
 * How often a wafer is worked on at each step, and what share of wafers passes: the
 * arithmetic of yields and rework, without time.
 *
 * A passage is what happens to a wafer from entering at one step until it is past all
 * steps read so far. Rework sends a wafer back to the start of such a passage, so each
 * loop is a geometric series, cut where the wafer has been back often enough. Exact
 * for loops one after another. Within a loop around it, an inner loop is taken to count
 * anew on each round, and a wafer sent back to before a group to come to the same lane.
 */
interface Passage {
  readonly entry: string
  /** Mean number of times on each step, per wafer entering. */
  readonly visits: ReadonlyMap<string, number>
  /** Share that passes. */
  readonly passed: number
}

/** What happens to a wafer at one pass through a step. The rest is lost. */
interface Outcome {
  readonly pass: number
  readonly rework: number
}

/** Visits per wafer fed to the line, by step, and the share of wafers fed that ends as good cells. */
export interface Flow {
  readonly visits: ReadonlyMap<string, number>
  readonly yield: number
  /** By step: share of the wafers that come to it, sent back ones counted once, that passes it in the end. */
  readonly stepYield: ReadonlyMap<string, number>
  /** Mean efficiency of what comes to it for the first time, by step, fraction; 0 where the line has no wafer, or no test rejects or sends back by it. */
  readonly made: ReadonlyMap<string, number>
}

/** What comes to an item of the route. */
interface Arrivals {
  /** The first from the feed, then one from each step to which wafers are sent back. */
  readonly passages: readonly Passage[]
  /** Share of the wafers with a hidden defect, on the way of a wafer that is never sent back. */
  readonly hidden: number
  readonly made: Made
  /** Wafers fed to the line for those that come here, by the lanes that lead here [wafers/s]. */
  readonly fed: number
}

const FEED = ''

/**
 * Lanes of different pace share the wafers by what each can take. Those that take turns get
 * equal shares as far as they can take them: one that is full is passed over, and the others
 * share what it leaves. With more wafers than all can take they are all full, and share by
 * what each can take as well: the right bound of what they do together, however small
 * their buffers are. In between, buffers that are full for a moment only are left out.
 *
 * @param rates net rate of each step, of all equal lanes together [wafers/s]
 * @param setUp share of the wafers of each step that are set-up wafers
 * @param fed wafers fed to the line; Infinity: as many as it can take [wafers/s]
 */
export function flowOf(
  route: Route,
  wafer: WaferKind | undefined,
  rates: ReadonlyMap<string, number>,
  setUp: ReadonlyMap<string, number> = new Map(),
  fed = Infinity,
): Flow {
  const stepYield = new Map<string, number>()
  const means = new Map<string, number>()
  const targets = new Set(
    allItems(route).flatMap(item => ('step' in item && item.rework ? [item.rework.to] : [])),
  )
  // Where no test looks at it, nobody asks what wafers are like.
  const measured = allItems(route).some(
    item => 'step' in item && (item.test?.rejectBelow ?? item.test?.reworkBelow) !== undefined,
  )
  const made = madeBy(measured ? wafer : undefined)
  const start: Passage = { entry: FEED, visits: new Map(), passed: 1 }
  const [whole] = throughRoute(route, { passages: [start], hidden: 0, made, fed }).passages
  return { visits: whole.visits, yield: whole.passed, stepYield, made: means }

  function throughRoute(part: Route, arrivals: Arrivals): Arrivals {
    let past = arrivals
    for (const item of part) {
      if ('step' in item) past = throughStep(item, past)
      else if ('group' in item) past = throughGroup(item, past)
    }
    return past
  }

  function throughStep(step: Step, { passages, hidden, made, fed }: Arrivals): Arrivals {
    const found = hidden * findsOf(step)
    const here = atStep(step, outcomeOf(step, made, setUp.get(step.step) ?? 0, found), passages)
    stepYield.set(step.step, here.passed)
    means.set(step.step, meanMade(made))
    const past = passages.map(({ entry, visits, passed }) => ({
      entry,
      visits: sumOf([visits, 1], [here.visits, passed]),
      passed: passed * here.passed,
    }))
    return {
      // Only where wafers come back is the way from here on ever asked for.
      passages: targets.has(step.step) ? [...past, here] : past,
      hidden: hiddenAfter(step, hidden, found),
      made: treated(made, step),
      fed,
    }
  }

  function throughGroup(group: Group, arrivals: Arrivals): Arrivals {
    const { passages, fed } = arrivals
    const { lanes, parts } = lanesOf(group, arrivals)
    const leaving = shares(lanes.map((lane, index) => lane.passages[0].passed * parts[index]))
    return {
      passages: passages.map(({ entry }, index) => ({
        entry,
        visits: sumOf(...lanes.map((lane, l) => [lane.passages[index].visits, parts[l]] as const)),
        passed: lanes.reduce((sum, lane, l) => sum + lane.passages[index].passed * parts[l], 0),
      })),
      hidden: lanes.reduce((sum, lane, index) => sum + lane.hidden * leaving[index], 0),
      made: joined(lanes.map((lane, index) => ({ made: lane.made, weight: leaving[index] }))),
      fed,
    }
  }

  /** What goes through each lane, and the part of the wafers that it gets. */
  function lanesOf(group: Group, arrivals: Arrivals) {
    const routes = laneRoutes(group).map(lane => lane.route)
    const through = (lane: Route, part: number) =>
      throughRoute(lane, { ...arrivals, fed: arrivals.fed * part })
    if (routes.length === 1) return { lanes: [through(routes[0], 1)], parts: [1] }
    const full = routes.map(lane => throughRoute(lane, { ...arrivals, fed: Infinity }))
    const takes = full.map(lane => intake(arrivals.passages[0], lane.passages[0], rates))
    const parts = group.split === 'in turn' ? inTurn(takes, arrivals.fed) : shares(takes)
    // Only groups within a lane ask what comes by it.
    const alike = arrivals.fed === Infinity || !routes.some(takesTurns)
    return { lanes: alike ? full : routes.map((lane, l) => through(lane, parts[l])), parts }
  }
}

/** Whether lanes of a route that differ take turns: only they share fewer wafers otherwise than many. */
export function takesTurns(route: Route): boolean {
  return route.some(item => {
    if (!('group' in item)) return false
    const lanes = laneRoutes(item)
    return (item.split === 'in turn' && lanes.length > 1) || lanes.some(lane => takesTurns(lane.route))
  })
}

/** Parts of one, in proportion; equal ones where there is nothing. */
function shares(amounts: readonly number[]): readonly number[] {
  const all = amounts.reduce((sum, amount) => sum + amount, 0)
  return amounts.map(amount => (all > 0 ? amount / all : 1 / amounts.length))
}

/**
 * Shares of lanes that take turns: equal ones, but what a lane cannot take goes to the others.
 *
 * @param takes what each can take [wafers/s]
 * @param fed what comes [wafers/s]
 */
function inTurn(takes: readonly number[], fed: number): readonly number[] {
  // Lanes that are just full are full.
  if (takes.reduce((sum, each) => sum + each, 0) <= fed * (1 + 1e-9)) return shares(takes)
  const parts = takes.map(() => 0)
  let left = 1
  // The slowest first: whoever can take an equal part of what is left leaves all after it as much.
  const order = takes.map((_, lane) => lane).sort((a, b) => takes[a] - takes[b])
  order.forEach((lane, index) => {
    parts[lane] = Math.min(takes[lane] / fed, left / (order.length - index))
    left -= parts[lane]
  })
  return parts
}

/** Wafers a second that a lane can take in: what its slowest step lets through. */
function intake(before: Passage, after: Passage, rates: ReadonlyMap<string, number>): number {
  let least = Infinity
  for (const [step, visits] of after.visits) {
    const added = visits - (before.visits.get(step) ?? 0)
    if (added > 0) least = Math.min(least, (rates.get(step) ?? Infinity) / added)
  }
  return least
}

/** From arriving at a step until past it, rounds of rework included. */
function atStep(
  { step, rework }: Step,
  { pass, rework: back }: Outcome,
  passages: readonly Passage[],
): Passage {
  const round = passages.find(({ entry }) => entry === rework?.to) ?? { visits: new Map(), passed: 1 }
  const atMost = rework?.atMost ?? 0
  const returns = back * round.passed
  // Visits 1 + q + ... + q^n, rounds of rework back x (1 + ... + q^(n-1)).
  let [visits, rounds, last] = [1, 0, 1]
  for (let time = 1; time <= atMost; time++) {
    rounds += back * last
    last *= returns
    visits += last
  }
  const unlucky = rework?.then === 'pass' ? back * last : 0
  return {
    entry: step,
    visits: sumOf([round.visits, rounds], [new Map([[step, 1]]), visits]),
    passed: pass * visits + unlucky,
  }
}

function sumOf(...terms: (readonly [ReadonlyMap<string, number>, number])[]): ReadonlyMap<string, number> {
  const sum = new Map<string, number>()
  for (const [visits, factor] of terms)
    for (const [step, number] of visits) sum.set(step, (sum.get(step) ?? 0) + number * factor)
  return sum
}

/** Breakage comes first, then set-up wafers, then reject, then what the test rejects, then rework; each is a share of what is left. */
function outcomeOf(step: Step, made: Made, setUp: number, found: number): Outcome {
  const { breakage = '0 %', reject = '0 %', rework, test } = step
  const broken = quantity('share', typeof breakage === 'string' ? breakage : breakage.share)
  const toBack = rework ? quantity('share', rework.share) : 0
  const noise = quantity('share', test?.noise ?? '0 %')
  const below = (limit: string | undefined) =>
    limit === undefined ? 0 : shareBelow(quantity('share', limit), made, noise)
  const testRejects = below(test?.rejectBelow)
  const testReworks = rework && test?.reworkBelow !== undefined ? below(test.reworkBelow) - testRejects : 0
  const kept = (1 - broken) * (1 - setUp) * (1 - quantity('share', reject)) * (1 - found) * (1 - testRejects)
  const passing = testRejects < 1 ? (1 - toBack) * (1 - testReworks / (1 - testRejects)) : 0
  return { pass: kept * passing, rework: kept * (1 - passing) }
}

/** Share of the hidden defects that a step finds. */
function findsOf({ test }: Step): number {
  return test ? quantity('share', test.finds ?? '100 %') : 0
}

/**
 * Share of the wafers with a hidden defect behind a step. Drift counts with its mean, half of
 * its end. What overdue stops add is left out.
 *
 * @param found share of all wafers in which the step finds one
 */
function hiddenAfter({ defects = '0 %', drift }: Step, before: number, found: number): number {
  // Of the wafers that the test lets pass.
  const left = found < 1 ? (before - found) / (1 - found) : 0
  const worn = quantity('share', drift?.defects ?? '0 %') / 2
  return 1 - (1 - left) * (1 - quantity('share', defects)) * (1 - worn)
}
