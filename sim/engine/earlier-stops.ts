import { ClockWalk, type WalkedClock } from '../chance/clock-walk.ts'
import { mean } from '../chance/law.ts'
import { openStream } from '../chance/streams.ts'
import type { StopPlan, ToolPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

const { CALENDAR, PIECES, TICKS_PER_WEEK } = Plans

/** After so many of the longest intervals nothing tells any more when the clocks began. */
const INTERVALS = 50
/** The walk is no longer than so many of the shortest. */
const MOST = 1e5

/**
 * Stops that begin at random and renew one another began together: what is left of their intervals
 * when the run begins, found by following the clocks of the tool up to a random moment, as if it
 * had always been at work. Where one that renews begins at a known time, from when it was done last.
 *
 * @returns by index of the stop: ticks, or pieces; nothing for stops that stand alone, or begin anew
 */
export function leftAtRandom(plan: ToolPlan, tool: number, key: RunKey): ReadonlyMap<number, number> {
  const { stops } = plan
  const members = stops.flatMap((stop, s) => (stop.aged && takesPart(stops, s) ? [s] : []))
  if (members.length === 0) return new Map()
  const perPiece = ticksPerPiece(plan, tool)
  const unit = (s: number) => (stops[s].clock === PIECES ? perPiece : 1)
  const clocks = members.map((s): WalkedClock => {
    const draw = drawer(stops[s].every, key, 1, plan.name, `tool ${tool + 1}`, stops[s].name, 'every before')
    return {
      draw: () => draw() * unit(s),
      always: stops[s].clock === CALENDAR,
      lasts: mean(stops[s].lasts),
      renews: stops[s].renews.map(other => members.indexOf(other)).filter(at => at >= 0),
    }
  })
  const intervals = members.map(s => mean(stops[s].every) * unit(s))
  const chance = openStream(key.seed, key.replication, plan.name, `tool ${tool + 1}`, 'begin')()
  const known = sinceKnown(stops, members, tool)
  const ahead = known < Infinity ? known : (INTERVALS + chance) * Math.max(...intervals)
  const walk = new ClockWalk(clocks)
  for (let left = Math.min(ahead, MOST * Math.min(...intervals)); left > 0; ) {
    const before = walk.worked
    if (walk.next(left) < 0) break
    left -= walk.worked - before
  }
  return new Map(members.map((s, m) => [s, Math.max(1, Math.ceil(walk.left(m) / unit(s)))]))
}

function takesPart(stops: readonly StopPlan[], s: number): boolean {
  return stops[s].renews.length > 0 || stops.some(({ renews }) => renews.includes(s))
}

/** How long one piece takes that the stops of a tool count. */
function ticksPerPiece(plan: ToolPlan, tool: number): number {
  if (plan.kind === 'belt') return plan.slot
  return mean(plan.kind === 'batch' ? plan.time : plan.cycle[tool])
}

/** Time since the last stop before the run that renews one of them and of which it is known; Infinity: none is. */
function sinceKnown(stops: readonly StopPlan[], members: readonly number[], tool: number): number {
  let since = Infinity
  for (const { aged, first, every, occasions, lasts, renews } of stops) {
    if (aged || !renews.some(other => members.includes(other))) continue
    if (first) since = Math.min(since, Math.max(0, mean(every) - first[tool]))
    if (occasions?.kind === 'weekly')
      since = Math.min(since, Math.max(0, TICKS_PER_WEEK - (occasions.starts.at(-1) ?? 0) - mean(lasts)))
  }
  return since
}
