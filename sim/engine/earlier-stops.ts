import { ClockWalk, type WalkedClock } from '../chance/clock-walk.ts'
import { mean } from '../chance/law.ts'
import { remainingOf } from '../chance/remaining.ts'
import { openStream } from '../chance/streams.ts'
import type { StopPlan, ToolPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

const { CALENDAR, TICKS_PER_WEEK } = Plans

/** After so many of the longest intervals nothing tells any more how the walk began, nor after so many of the shortest. */
const INTERVALS = 20
const MOST = 20_000

/**
 * Stops that begin at random and renew one another began together: what is left of their intervals
 * when the run begins, found by following the clocks of the tool for a long time, as if it had always
 * been at work. Each begins the walk at a random moment of its own interval: a fixed one is then anywhere in it at
 * the end, however long the walk. What of those that renew begins at a known time has last done so in the walk.
 *
 * @returns by index of the stop: ticks, or pieces; nothing for stops that stand alone, or begin anew
 */
export function leftAtRandom(plan: ToolPlan, tool: number, key: RunKey): ReadonlyMap<number, number> {
  const { stops } = plan
  const members = stops.flatMap((stop, s) => (stop.walked ? [s] : []))
  if (members.length === 0) return new Map()
  const name = [plan.name, `tool ${tool + 1}`] as const
  const units = members.map(s => stops[s].walked?.unit ?? 1)
  const waits = members.map(s => stops[s].walked?.waits ?? 0)
  const clocks = members.map((s, m) => {
    const draw = drawer(stops[s].every, key, 1, ...name, stops[s].name, 'every before')
    return {
      draw: () => draw() * units[m] + waits[m],
      always: stops[s].clock === CALENDAR,
      lasts: mean(stops[s].lasts),
      renews: stops[s].renews.map(other => members.indexOf(other)).filter(at => at >= 0),
    } satisfies WalkedClock
  })
  const intervals = members.map((s, m) => mean(stops[s].every) * units[m] + waits[m])
  const begins = clocks.map(({ draw }, m) =>
    remainingOf(
      draw,
      intervals[m],
      openStream(key.seed, key.replication, ...name, stops[members[m]].name, 'begin'),
    ),
  )
  const walk = new ClockWalk(clocks, { pace: stops[members[0]].walked?.calendar ?? 1, begins })
  const span = Math.min(INTERVALS * Math.max(...intervals), MOST * Math.min(...intervals))
  for (const { since, renews } of knownBefore(stops, tool)) {
    walk.work(span - since - walk.worked)
    for (const other of renews) if (members.includes(other)) walk.start(members.indexOf(other))
  }
  walk.work(span - walk.worked)
  return new Map(members.map((s, m) => [s, Math.max(1, Math.ceil((walk.left(m) - waits[m]) / units[m]))]))
}

/** When stops with a known time were last done before the run, the earliest first [ticks before it]. */
function knownBefore(stops: readonly StopPlan[], tool: number) {
  const known = stops.flatMap(({ walked, first, every, occasions, lasts, renews }) => {
    if (walked || renews.length === 0) return []
    if (first) return [{ since: Math.max(0, mean(every) - first[tool]), renews }]
    if (occasions?.kind !== 'weekly') return []
    return [{ since: Math.max(0, TICKS_PER_WEEK - (occasions.starts.at(-1) ?? 0) - mean(lasts)), renews }]
  })
  return known.sort((a, b) => b.since - a.since)
}
