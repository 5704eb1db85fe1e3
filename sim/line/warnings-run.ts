import { MANY_ALIKE, type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatNumber, formatQuantity, quantity } from '../base/quantity.ts'
import { openShare } from './calendar.ts'
import { paperUse } from './capacity.ts'
import { DAY, DAYS } from './clock.ts'
import { isSpread } from './first-times.ts'
import { meanTime } from './means.ts'
import { comesIn, periodOf } from './occurrences.ts'
import type { Place } from './outline.ts'
import { type Pace, pacesOf } from './pace.ts'
import { patternOf } from './pattern.ts'
import { isRenewed } from './renewals.ts'
import { type Site, siteOf } from './site.ts'
import type { Line, RunDefaults, Step, Stop } from './types.ts'

export const LEFT_TO_LUCK = 'with so few, what they cost is left to luck'
/** Fewer occurrences than this in all runs leave a stop to luck. */
const FEWEST_STOPS = 5
/** Stops that come in a run less often than this share of what will come are told, and those that stand a tool for this share of its time too little. */
const LATE = 0.85
const MISSING = 0.005

type Runs = Required<Pick<RunDefaults, 'days' | 'replications'>> & { readonly site: Site }

/** What runs of the length and number that the line asks for cannot show; nothing where it asks for none. */
export function warningsOfRuns(line: Line, route: readonly Place[]): Problem[] {
  const { days, replications } = line.run ?? {}
  if (days === undefined || replications === undefined) return []
  const runs = { days, replications, site: siteOf(line) }
  const { usage } = paperUse(line)
  const open = openShare(line.calendar)
  const works = (step: string) => open * (usage.get(step) ?? 1)
  return [...warnOfPattern(line, route, runs), ...foldRare(warningsOfStops(route, runs, works), runs)]
}

/** @param works share of all hours in which the tools of a step would never wait, for stops that count their work */
function warningsOfStops(
  route: readonly Place[],
  runs: Runs,
  works: (step: string) => number,
  lanes = 1,
): Problem[] {
  return route.flatMap(({ item, path, lanes: inner }) => {
    if (!item || !('step' in item))
      return inner.flatMap(lane => warningsOfStops(lane.route, runs, works, lanes * lane.names.length))
    return (item.stops ?? []).flatMap((stop, index) => {
      // What comes after idleness is as rare as the idleness.
      if (stop.afterIdle !== undefined) return []
      const stopPath = [...path, 'stops', index, { name: stop.stop }]
      const periodic = warnOfPeriod(stop, stopPath, runs)
      return periodic.length > 0
        ? periodic
        : warnOfRareness(item, stop, stopPath, lanes, { ...runs, share: sharesOf(item, stop, works) })
    })
  })
}

/** Share of a run that the clock of a stop counts. */
function sharesOf({ step }: Step, { counts, at }: Stop, works: (step: string) => number): number {
  return at !== undefined || counts === 'calendar time' ? 1 : works(step)
}

type Counted = Runs & { readonly share: number }

function warnOfRareness(step: Step, stop: Stop, path: Path, lanes: number, runs: Counted): Problem[] {
  const span = runs.days * DAY * runs.share
  const paces = pacesOf(step)
  const expected =
    paces.reduce((sum, pace) => sum + pace.units * lanes * comesIn(step, stop, pace, runs.site, span), 0) *
    runs.replications
  // Why one is never due is told without runs.
  if (expected === 0 && isRenewed(step, stop) && periodOf(step, stop, paces[0], runs.site) === Infinity)
    return []
  if (expected >= FEWEST_STOPS) return warnOfLateness(step, stop, path, paces[0], runs)
  const many = expected === 0 ? 'none' : `about ${formatNumber(Number(expected.toPrecision(2)))}`
  return [
    problemAt(
      [...path, stop.at ? 'at' : 'every'],
      `${many} of them in ${runsText(runs)}`,
      `${FEWEST_STOPS} or more, by longer or more runs`,
      LEFT_TO_LUCK,
    ),
  ]
}

/**
 * Stops whose clocks all start with the run come less often in it than they will: the
 * first time only after a whole interval. With intervals that scatter as much as an exponential
 * law nothing is missing, since what is past says nothing of when the next comes.
 */
function warnOfLateness(step: Step, stop: Stop, path: Path, pace: Pace, runs: Counted): Problem[] {
  if (stop.at || stop.first !== undefined) return []
  const span = runs.days * DAY * runs.share
  const [comes, lasting] = [
    comesIn(step, stop, pace, runs.site, span),
    span / periodOf(step, stop, pace, runs.site),
  ]
  const missing = ((lasting - comes) * meanTime(stop.lasts)) / span
  if (comes > LATE * lasting && missing < MISSING) return []
  const number = (value: number) => formatNumber(Number(value.toPrecision(2)))
  const spread = stop.counts === 'calendar time' ? ', or a span over which the first times are spread' : ''
  return [
    problemAt(
      [...path, 'every'],
      `clocks that all start with the run, of ${daysText(runs.days)}`,
      `"first", at random${spread}, or longer runs`,
      `each tool has about ${number(comes)} of them in a run, where it will have ${number(lasting)} in as many days`,
    ),
  ]
}

/** Many rare stops are one thing to know about the runs, not one about each. */
function foldRare(warnings: readonly Problem[], runs: Runs): readonly Problem[] {
  const rare = warnings.filter(({ hint }) => hint === LEFT_TO_LUCK)
  if (rare.length < MANY_ALIKE) return warnings
  const found = `${rare.length} stops of which fewer than ${FEWEST_STOPS} come in ${runsText(runs)}, the first ${rare[0].path}`
  const others = warnings.filter(({ hint }) => hint !== LEFT_TO_LUCK)
  return [...others, problemAt(['run'], found, 'longer or more runs', LEFT_TO_LUCK)]
}

/** A stop at a fixed interval comes equally often in every run: in one shorter than the interval, once or never. */
function warnOfPeriod({ counts, every, first }: Stop, path: Path, runs: Runs): Problem[] {
  if (counts !== 'calendar time' || typeof every !== 'string') return []
  // Spread over a span, it comes to as many tools as it should.
  if (isSpread(first)) return []
  const period = quantity('time', every)
  if (period < runs.days * DAY) return []
  const length = formatQuantity('time', runs.days * DAY)
  return [
    problemAt(
      [...path, 'every'],
      `${quoted(every)} in runs of ${length}`,
      'runs as long as that at least, or "first" with a span, or at random, which spreads them',
      first === undefined
        ? 'it comes in none of them'
        : `"first" says whether it comes once or not at all, never ${formatNumber(Number(((runs.days * DAY) / period).toPrecision(2)))} times`,
    ),
  ]
}

/** Where one day, or hour, is not like another, only whole weeks, or days, have the mean of all. */
function warnOfPattern(line: Line, route: readonly Place[], runs: Runs): Problem[] {
  const pattern = patternOf(line, route)
  if (pattern === undefined) return []
  const { repeats, differs } = pattern
  if (runs.days % (repeats === 'week' ? DAYS.length : 1) === 0) return []
  return [
    problemAt(
      ['run', 'days'],
      formatNumber(runs.days),
      repeats === 'week' ? 'whole weeks: 7, 14, …' : 'whole days',
      `${differs} differs from ${repeats === 'week' ? 'day to day' : 'hour to hour'}, and a run starts on Monday at 00:00`,
    ),
  ]
}

function daysText(days: number): string {
  return `${formatNumber(days)} ${days === 1 ? 'day' : 'days'}`
}

function runsText({ days, replications }: Runs): string {
  const length = daysText(days)
  return replications === 1 ? `one run of ${length}` : `${replications} runs of ${length}`
}
