import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { shareAbove } from '../chance/above.ts'
import { mean, toLaw } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'
import { clockTimes, WEEK } from './clock.ts'
import { isSpread } from './first-times.ts'
import { meanCount, meanTime } from './means.ts'
import type { Recurrence } from './recurrence.ts'
import type { Site } from './site.ts'
import type { Batch, Belt, Step, Stop } from './types.ts'

/**
 * What one tool makes by itself, always with wafers before it and room behind it.
 * Arithmetic on mean values only. Times in seconds, rates in wafers per second.
 */
export interface Pace {
  /** Tools (for batch tools: tubes) with this pace in the step of one lane. */
  readonly units: number
  /** Time from one piece to the next on one unit [s]. */
  readonly cycle: number
  /** Part of that time by which running time counts: bringing a load in and out is left out [s]. */
  readonly work: number
  /** Wafers in a piece: 1, or a load. */
  readonly wafers: number
  /** Time a wafer spends on a belt [s]; 0: the work is done when the next is taken. */
  readonly transit: number
}

/** How a step works. */
export function workingWay(step: Step): 'single' | 'belt' | 'batch' {
  return step.belt ? 'belt' : step.batch ? 'batch' : 'single'
}

/** Paces of a step, one for each cycle time. */
export function pacesOf(step: Step): readonly Pace[] {
  const { tools = 1, cycle, cycles, belt, batch } = step
  const single = (units: number, time: number, transit = 0): Pace => ({
    ...{ units, cycle: time, work: time, wafers: 1, transit },
  })
  if (belt) {
    const { spacing, transit } = beltPace(belt)
    return [single(tools, spacing / (belt.lanes ?? 1), transit)]
  }
  if (cycles) return cycles.map(own => single(1, meanTime(own)))
  if (!batch) return [single(tools, meanTime(cycle ?? '0 s'))]
  const work = meanTime(batch.time)
  return [
    {
      units: tools * (batch.tubes ?? 1),
      cycle: work + handling(batch),
      work,
      wafers: batch.load,
      transit: 0,
    },
  ]
}

/** Spacing of one lane and transit [s]: as given, or pitch / speed and length / speed. */
export function beltPace(belt: Belt): { readonly spacing: number; readonly transit: number } {
  const { spacing, transit, length, speed, pitch } = belt
  if (spacing !== undefined && transit !== undefined)
    return { spacing: quantity('time', spacing), transit: quantity('time', transit) }
  const pace = quantity('speed', speed ?? '')
  return { spacing: quantity('length', pitch ?? '') / pace, transit: quantity('length', length ?? '') / pace }
}

/** Wafers on a full belt: lanes x transit / spacing (Little's law), a wafer at the end making room for one at the start. */
export function beltContent(belt: Belt): number {
  const { spacing, transit } = beltPace(belt)
  // Rounding must not make 61 wafers of 60 s at 1 s.
  return Math.max(1, Math.ceil(((belt.lanes ?? 1) * transit) / spacing - 1e-9))
}

/** Time of the loader for one load, in and out [s]. */
function handling({ loading = '0 s', unloading = '0 s' }: Batch): number {
  return meanTime(loading) + meanTime(unloading)
}

/** Time for which a tube is taken by the coating of cleaned boats, per load [s]. */
function coating({ boats }: Batch): number {
  const { coating: lasts, every } = boats?.cleaning ?? { every: 1 }
  return lasts === undefined ? 0 : meanTime(lasts) / every
}

/**
 * What the boats of a step carry at most: each is with a load from loading on until it is
 * unloaded; then it cools, or is cleaned, or is broken and replaced [wafers/s].
 */
export function boatLimit({ batch, tools = 1 }: Step): number {
  if (!batch?.boats) return Infinity
  const { perTool, cooling = '0 s', cleaning, breakage } = batch.boats
  const broken = breakage ? quantity('share', breakage.share) : 0
  const cleaned = cleaning ? 1 / cleaning.every : 0
  const whole = cleaned * meanTime(cleaning?.lasts ?? '0 s') + (1 - cleaned) * meanTime(cooling)
  const away = broken * meanTime(breakage?.replacedAfter ?? '0 s') + (1 - broken) * (whole + coating(batch))
  return (tools * perTool * batch.load) / (meanTime(batch.time) + handling(batch) + away)
}

/** What the boats of a step would carry if they were never away: a load each, from loading on until it is unloaded [wafers/s]. */
function boatsAtWork({ batch, tools = 1 }: Step): number {
  if (!batch?.boats) return Infinity
  return (tools * batch.boats.perTool * batch.load) / (meanTime(batch.time) + handling(batch))
}

/** What the loaders of a step can bring in and out at most: one loader per tool [wafers/s]. */
export function loaderLimit({ batch, tools = 1 }: Step): number {
  return batch && handling(batch) > 0 ? (tools * batch.load) / handling(batch) : Infinity
}

/** Rate of a step of one lane, stops left out [wafers/s]. */
export function grossRate(step: Step): number {
  const units = pacesOf(step).reduce((sum, { units, wafers, cycle }) => sum + (units * wafers) / cycle, 0)
  return Math.min(units, loaderLimit(step), boatLimit(step))
}

/** Rate of a step of one lane net of its stops, while the line is open [wafers/s]. */
export function netRate(step: Step, site: Site): number {
  const units = pacesOf(step).reduce(
    (sum, pace) => sum + ((pace.units * pace.wafers) / pace.cycle) * availabilityAt(step, pace, site),
    0,
  )
  // What stops the whole tool stops its loader and the loads in its boats, which cool meanwhile.
  const up = site.upShare(step)
  return Math.min(units, loaderLimit(step) * up, boatLimit(step), boatsAtWork(step) * up)
}

/** Share of the open time in which the tools of a step are up, mean over their paces. */
export function availability(step: Step, site: Site): number {
  const paces = pacesOf(step)
  const units = paces.reduce((sum, pace) => sum + pace.units, 0)
  return paces.reduce((sum, pace) => sum + pace.units * availabilityAt(step, pace, site), 0) / units
}

/**
 * Availability of a unit that is never starved or blocked, and whose stops never wait for a
 * person, but for a good moment as long as they may. Who serves a stop takes the time to reach
 * the tool.
 *
 * Stops that count running time, wafers or loads strike only while the unit works:
 * together 1 / (1 + sum of lasts / every), every as running time (Buzacott 1967, Int.
 * J. Production Research 5, 183-200; from memory). A stop by the calendar takes lasts /
 * (every + lasts), every being the mean time from the end of one to the next (where nights are
 * closed see recurrence.ts), and what it leaves multiplies the rest: the running clocks stand still meanwhile. So does a stop by the clock, with the
 * share of the open time on which it falls, an event of the site, and warming up after the
 * line was closed. For several of these the product takes them as independent.
 */
function availabilityAt(step: Step, pace: Pace, site: Site): number {
  let running = clearingShare(step, pace, site) + (step.batch ? coating(step.batch) / pace.cycle : 0)
  let calendar = site.upShare(step)
  for (const stop of step.stops ?? []) {
    const down = downTime(step, stop, site)
    if (stop.at) calendar *= 1 - site.shareTaken(stop.at, down, beginsOf(stop))
    else if (stop.counts === 'calendar time') calendar *= 1 - recurrence(step, stop, pace, site).taken
    else running += down / (upTime(stop, pace) + putOff(stop, pace, site))
  }
  // What is always down still has a rate, so that the shares of lanes can be told.
  return Math.max(calendar, 1e-9) / (1 + running)
}

/** How a stop by the calendar comes. */
function recurrence(step: Step, stop: Stop, pace: Pace, site: Site): Recurrence {
  const { skill, every, lasts, first } = stop
  const time = (text: Time) => quantity('time', text)
  const scatters = [every as Spread<Time>, lasts].some(spread => toLaw(spread, time, 1).kind !== 'fixed')
  // Tools that begin at times of their own are taken as one, in step with nothing.
  const anywhere = scatters || site.scatters(skill) || isSpread(first)
  const firstAt = anywhere ? undefined : (first ?? every)
  return site.recurrence({
    every: upTime(stop, pace) + putOff(stop, pace, site),
    lasts: downTime(step, stop, site),
    waitsForOpening: beginsOf(stop) === 'when open',
    firstAt: typeof firstAt === 'string' ? quantity('time', firstAt) : undefined,
  })
}

/**
 * How long a stop that is due is put off at most by what it waits for, on a unit that is never
 * starved: until then it does not come again, since its clock starts anew at its end [s].
 */
function putOff({ waits, counts }: Stop, { work }: Pace, site: Site): number {
  if (waits === undefined) return 0
  const most = quantity('time', waits.atMost)
  if (waits.until === 'shift change') return site.untilShiftChange(most)
  if (waits.until === 'starved') return most
  // Loads are counted at their end; else the stop is due anywhere in one.
  return counts === 'loads' ? 0 : Math.min(most, work / 2)
}

/** Planned work that needs nobody is done in closed hours; failures and work with people begin when the line opens. */
function beginsOf({ skill, kind = 'unscheduled' }: Stop): 'when due' | 'when open' {
  return skill !== undefined || kind === 'unscheduled' ? 'when open' : 'when due'
}

/** How long such a stop takes a tool down: until someone is there, the stop itself, and warming up [s]. */
export function downTime({ warmUp }: Step, { lasts, skill }: Stop, site: Site): number {
  const law = toLaw(lasts, text => quantity('time', text), 1)
  const reach = site.reach(skill)
  // The tool stands while somebody is on the way, too.
  const cold = warmUp ? shareAbove(law, quantity('time', warmUp.after) - reach) * meanTime(warmUp.lasts) : 0
  return reach + mean(law) + cold
}

/**
 * Mean time between two such stops of a unit that never waits, going by the clock of
 * the stop, from the end of one to the next [s]; Infinity for what comes after idleness only.
 */
export function upTime(stop: Stop, pace: Pace): number {
  const { counts, every, at, afterIdle, lasts } = stop
  const { cycle, work } = pace
  if (afterIdle) return Infinity
  if (at) return WEEK / clockTimes(at).length - meanTime(lasts)
  if (counts === 'wafers' || counts === 'loads')
    return (meanCount(every as Spread<number>) + uncounted(stop, pace)) * cycle
  const time = meanTime(every as Spread<Time>)
  return counts === 'calendar time' ? time : time * (cycle / work)
}

/**
 * Wafers count when they reach the end of a belt. Those on it when the stop comes go in uncounted, from one
 * such stop to the next, as far as they reach the end while it lasts or are lost to it.
 */
function uncounted({ inside = 'run out', lasts }: Stop, { transit, cycle }: Pace): number {
  const content = transit / cycle
  if (content === 0 || inside === 'resume') return 0
  if (inside === 'lose') return content
  const { lose } = typeof inside === 'string' ? { lose: 0 } : inside
  const lost = typeof lose === 'number' ? lose : (lose[0] + lose[1]) / 2
  return Math.min(lost + meanTime(lasts) / cycle, content)
}

/** Share of the wafers of a step that are set-up wafers, when its tools never wait: mean over its tools. */
export function setUpShare(step: Step, site: Site): number {
  const stops = (step.stops ?? []).filter(stop => setUpWafers(stop) > 0)
  if (stops.length === 0) return 0
  let [lost, all] = [0, 0]
  for (const pace of pacesOf(step)) {
    const up = availabilityAt(step, pace, site)
    all += ((pace.units * pace.wafers) / pace.cycle) * up
    for (const stop of stops)
      lost += pace.units * setUpWafers(stop) * comesPerSecond(step, stop, pace, up, site)
  }
  // What makes nothing else still has a yield, so that the shares of lanes can be told.
  return Math.min(1 - 1e-9, lost / all)
}

/**
 * How often such a stop comes in an open second. Planned work by the calendar that needs nobody
 * comes while the line is closed as well, and its set-up wafers are the first ones after that.
 *
 * @param up share of the open time in which the unit is up
 */
function comesPerSecond(step: Step, stop: Stop, pace: Pace, up: number, site: Site): number {
  const down = downTime(step, stop, site)
  if (stop.at) return site.returnsPerSecond(stop.at, down, beginsOf(stop))
  if (stop.counts !== 'calendar time') return up / (upTime(stop, pace) + putOff(stop, pace, site))
  return 1 / recurrence(step, stop, pace, site).cycle / site.openShare
}

/** Mean number of set-up wafers after such a stop. */
function setUpWafers({ setUpWafers: given = 0 }: Stop): number {
  return typeof given === 'number' ? given : (given[0] + given[1]) / 2
}

/** Time to clear away shards, per time of work. */
function clearingShare({ breakage }: Step, { cycle, wafers }: Pace, site: Site): number {
  if (breakage === undefined || typeof breakage === 'string' || breakage.clearing === undefined) return 0
  const { share = '100 %', lasts, skill } = breakage.clearing
  const perPiece = wafers * quantity('share', breakage.share) * quantity('share', share)
  return (perPiece * (site.reach(skill) + meanTime(lasts))) / cycle
}
