import { laneRoutes } from '../../line/items.ts'
import { grossRate } from '../../line/rates.ts'
import { resolvedLine } from '../../line/recipes.ts'
import type { Group, Line, Route } from '../../line/types.ts'

/** What a line would make by the nameplates of its steps, without a loss anywhere. */
export interface Nameplate {
  /** The step that allows least; where lanes that differ do, the slowest step of each lane that counts. */
  readonly steps: readonly string[]
  /** In wafers that are all good, over all hours [cells/day]. */
  readonly goodPerDay: number
}

/** What a part of a route lets through [wafers/s], and the steps that hold it to that. */
interface Pace {
  readonly steps: readonly string[]
  readonly rate: number
}

const DAY = 86_400
/** Of what has no step. */
const FREE: Pace = { steps: [], rate: Infinity }

/**
 * The least of what the steps make by their nameplates. Lanes add up, each by its own slowest
 * step, since each gets a part of the wafers only: in turn too, where a lane without a place is passed over.
 */
export function nameplateOf(line: Line): Nameplate {
  const { steps, rate } = paceOf(resolvedLine(line).route)
  return { steps, goodPerDay: rate * DAY }
}

function paceOf(route: Route): Pace {
  return route.map(paceOfItem).reduce(slower, FREE)
}

function paceOfItem(item: Route[number]): Pace {
  if ('step' in item) return { steps: [item.step], rate: grossRate(item) }
  return 'group' in item ? paceOfGroup(item) : FREE
}

function paceOfGroup(group: Group): Pace {
  const lanes = laneRoutes(group).map(({ names, route }) => ({ count: names.length, ...paceOf(route) }))
  return {
    steps: lanes.flatMap(({ steps }) => steps),
    rate: lanes.reduce((sum, lane) => sum + lane.count * lane.rate, 0),
  }
}

/** The first of two that are equal. */
function slower(one: Pace, other: Pace): Pace {
  return other.rate < one.rate ? other : one
}
