import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { ClockWalk, type WalkedClock } from '../chance/clock-walk.ts'
import { toLaw } from '../chance/law.ts'
import { sampler } from '../chance/sampler.ts'
import type { Spread } from '../chance/spec.ts'
import { openStream } from '../chance/streams.ts'
import { clockTimes, WEEK } from './clock.ts'
import { meanTime } from './means.ts'
import type { Pace } from './pace.ts'
import type { Site } from './site.ts'
import { downTime, putOff, uncounted } from './stop-times.ts'
import type { ClockTime, Step, Stop } from './types.ts'

/** Stops are followed until the share of time of each is known to a ten-thousandth of all time, and each has come so often, or so many in all. */
const SHARE_KNOWN_TO = 1e-4
const OF_EACH = 1000
const IN_ALL = 200_000
/** How often it is looked whether they are enough. */
const AT_A_TIME = 1000
/** Right to some 3 %: enough to say that something comes too seldom. */
const FOR_A_WARNING = 1000

/** Whether another stop of the step is done along with this one, or this one along with another. */
export function takesPart(step: Step, { stop, renews }: Stop): boolean {
  return renews !== undefined || (step.stops ?? []).some(other => other.renews?.includes(stop))
}

/**
 * Whether its clock starts anew with another stop, and that matters: by the clock it comes in any case, and what
 * has no memory is as far off as before, unless it was due and waited for a good moment.
 */
export function isRenewed(step: Step, { stop, at, every, waits }: Stop): boolean {
  const memoryless = typeof every === 'object' && ('exponential' in every || 'geometric' in every) && !waits
  return at === undefined && !memoryless && (step.stops ?? []).some(other => other.renews?.includes(stop))
}

/** The clocks of the stops of a step that take part in renewals, on a tool that never waits. */
interface Clocks {
  readonly stops: readonly Stop[]
  readonly clocks: () => WalkedClock[]
  /** All numbers on which the walk rests. */
  readonly key: string
}

function clocksOf(step: Step, pace: Pace, site: Site, calendar: number): Clocks {
  const stops = (step.stops ?? []).filter(stop => takesPart(step, stop) && stop.afterIdle === undefined)
  const times = stops.map(stop => ({
    more: putOff(stop, pace, site),
    lasts: downTime(step, stop, site),
  }))
  return {
    stops,
    clocks: () => stops.map((stop, s) => clockOf(stop, stops, pace, times[s])),
    key: JSON.stringify([stops, pace, calendar, times]),
  }
}

/** What has been found, by all that it rests on: each design of a study asks anew for most steps. */
const found = new Map<string, ReadonlyMap<string, number>>()
const KEPT = 1000

function onceFor(key: string, find: () => ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  const made = found.get(key) ?? find()
  if (found.size >= KEPT) found.clear()
  found.set(key, made)
  return made
}

/**
 * Mean time between two stops of each name that takes part in renewals, from the end of one to when the
 * next begins: of working for what counts work, else by the calendar [s]; Infinity for what never comes.
 * Found by following their clocks on a tool that never waits, always by the same draws.
 *
 * @param calendar time by the calendar for each moment at work or down for these stops
 */
export function timesBetween(
  step: Step,
  pace: Pace,
  site: Site,
  calendar: number,
): ReadonlyMap<string, number> {
  const { stops, clocks, key } = clocksOf(step, pace, site, calendar)
  return onceFor(key, () => {
    const followed = clocks()
    const walk = new ClockWalk(followed, { pace: calendar, transit: pace.transit })
    const counts = stops.map(() => 0)
    const unsure = (count: number, s: number) =>
      count < OF_EACH || (followed[s].lasts * Math.sqrt(count)) / walk.passed > SHARE_KNOWN_TO / calendar
    for (let n = 0; n < IN_ALL && counts.some(unsure); n += AT_A_TIME)
      for (let i = 0; i < AT_A_TIME; i++) counts[walk.next()]++
    return new Map(
      stops.map((stop, s) => {
        const each = timeOf(stop, walk) / counts[s]
        return [stop.stop, isCalendar(stop) ? Math.max(0, each - followed[s].lasts) : each]
      }),
    )
  })
}

/**
 * Mean number of stops of each name that takes part in renewals within so long from when all of them
 * have just been done [s, by the clock of the stop].
 */
export function numbersFromNew(
  step: Step,
  pace: Pace,
  site: Site,
  calendar: number,
  span: number,
): ReadonlyMap<string, number> {
  const { stops, clocks, key } = clocksOf(step, pace, site, calendar)
  return onceFor(`${key} within ${span}`, () => {
    const counts = stops.map(() => 0)
    const followed = clocks()
    let walks = 0
    for (let n = 0; n < IN_ALL && counts.some(count => count < FOR_A_WARNING); walks++) {
      const walk = new ClockWalk(followed, { pace: calendar, transit: pace.transit })
      for (; stops.some(stop => timeOf(stop, walk) < span); n++) {
        // So many are too seldom in no run.
        if (n >= IN_ALL && walks === 0) return new Map(stops.map(({ stop }) => [stop, Infinity]))
        const struck = walk.next()
        if (timeOf(stops[struck], walk) < span) counts[struck]++
      }
    }
    return new Map(stops.map((stop, s) => [stop.stop, counts[s] / walks]))
  })
}

interface Times {
  /** What it is put off by, and how long it takes [s]. */
  readonly more: number
  readonly lasts: number
}

function clockOf(stop: Stop, stops: readonly Stop[], pace: Pace, { more, lasts }: Times): WalkedClock {
  const renews = (stop.renews ?? [])
    .map(name => stops.findIndex(other => other.stop === name))
    .filter(index => index >= 0 && stops[index].at === undefined)
  return {
    draw: intervals(stop, pace, more),
    always: isCalendar(stop),
    lasts,
    renews,
    empties: uncounted(stop, pace) * pace.cycle,
  }
}

function isCalendar({ at, counts }: Stop): boolean {
  return at !== undefined || counts === 'calendar time'
}

/** Intervals as they come on a tool that never waits [s]. */
function intervals(stop: Stop, pace: Pace, more: number): WalkedClock['draw'] {
  const { at, counts, every, stop: name } = stop
  if (at) return inTurn(at, meanTime(stop.lasts))
  const stream = openStream('paper', 0, name)
  if (counts === 'wafers' || counts === 'loads') {
    const draw = sampler(
      toLaw(every as Spread<number>, number => number, 1),
      stream,
    )
    // What reaches the end comes behind the gap that stops have left on the belt.
    return gap => Math.max(1, Math.round(draw())) * pace.cycle + gap + more
  }
  const law = toLaw(every as Spread<Time>, text => quantity('time', text), 1)
  const draw = sampler(law, stream)
  const slower = isCalendar(stop) ? 1 : pace.cycle / pace.work
  return () => draw() * slower + more
}

/** From the end of work that is due by the clock to when it is due again, through the week. */
function inTurn(at: readonly ClockTime[], lasts: number): () => number {
  const times = [...clockTimes(at)].sort((a, b) => a - b)
  const gaps = times.map((time, t) => (t + 1 < times.length ? times[t + 1] : times[0] + WEEK) - time)
  let turn = 0
  return () => Math.max(0, gaps[turn++ % gaps.length] - lasts)
}

/** How long the clock of a stop has gone. */
function timeOf(stop: Stop, { passed, worked }: ClockWalk): number {
  return isCalendar(stop) ? passed : worked
}
