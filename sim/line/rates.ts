import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import { mean, toLaw } from '../chance/law.ts'
import type { Spread } from '../chance/spec.ts'
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
}

export function meanTime(spread: Spread<Time>): number {
  return mean(toLaw(spread, text => quantity('time', text), 1))
}

export function meanCount(spread: Spread<number>): number {
  return mean(toLaw(spread, number => number, 1))
}

/** How a step works. */
export function workingWay(step: Step): 'single' | 'belt' | 'batch' {
  return step.belt ? 'belt' : step.batch ? 'batch' : 'single'
}

/** Paces of a step, one for each cycle time. */
export function pacesOf(step: Step): readonly Pace[] {
  const { tools = 1, cycle, cycles, belt, batch } = step
  const single = (units: number, time: number): Pace => ({ units, cycle: time, work: time, wafers: 1 })
  if (belt) return [single(tools, beltPace(belt).spacing / (belt.lanes ?? 1))]
  if (cycles) return cycles.map(own => single(1, meanTime(own)))
  if (!batch) return [single(tools, meanTime(cycle ?? '0 s'))]
  const work = meanTime(batch.time)
  return [{ units: tools * (batch.tubes ?? 1), cycle: work + handling(batch), work, wafers: batch.load }]
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

/** What the loaders of a step can bring in and out at most: one loader per tool [wafers/s]. */
export function loaderLimit({ batch, tools = 1 }: Step): number {
  return batch && handling(batch) > 0 ? (tools * batch.load) / handling(batch) : Infinity
}

/** Rate of a step of one lane, stops left out [wafers/s]. */
export function grossRate(step: Step): number {
  const units = pacesOf(step).reduce((sum, { units, wafers, cycle }) => sum + (units * wafers) / cycle, 0)
  return Math.min(units, loaderLimit(step))
}

/** Rate of a step of one lane net of its stops [wafers/s]. */
export function netRate(step: Step): number {
  const units = pacesOf(step).reduce(
    (sum, pace) => sum + ((pace.units * pace.wafers) / pace.cycle) * availabilityAt(step, pace),
    0,
  )
  return Math.min(units, loaderLimit(step))
}

/** Share of time in which the tools of a step are up, mean over their paces. */
export function availability(step: Step): number {
  const paces = pacesOf(step)
  const units = paces.reduce((sum, pace) => sum + pace.units, 0)
  return paces.reduce((sum, pace) => sum + pace.units * availabilityAt(step, pace), 0) / units
}

/**
 * Availability of a unit that is never starved or blocked.
 *
 * Stops that count running time, wafers or loads strike only while the unit works:
 * together 1 / (1 + sum of lasts / every), every as running time (Buzacott 1967, Int.
 * J. Production Research 5, 183-200; from memory). A stop by the calendar takes every /
 * (every + lasts), every being the mean time from the end of one to the next, and multiplies
 * the rest: the running clocks stand still meanwhile. For several stops by the calendar
 * the product takes them as independent.
 */
function availabilityAt(step: Step, pace: Pace): number {
  let running = clearingShare(step, pace)
  let calendar = 1
  for (const stop of step.stops ?? []) {
    const down = meanTime(stop.lasts)
    const up = upTime(stop, pace)
    if (stop.counts === 'calendar time') calendar *= up / (up + down)
    else running += down / up
  }
  return calendar / (1 + running)
}

/**
 * Mean time between two such stops of a unit that never waits, going by the clock of
 * the stop [s].
 */
export function upTime({ counts, every }: Stop, { cycle, work }: Pace): number {
  if (counts === 'wafers' || counts === 'loads') return meanCount(every as Spread<number>) * cycle
  const time = meanTime(every as Spread<Time>)
  return counts === 'calendar time' ? time : time * (cycle / work)
}

/** Time to clear away shards, per time of work. */
function clearingShare({ breakage }: Step, { cycle, wafers }: Pace): number {
  if (breakage === undefined || typeof breakage === 'string' || breakage.clearing === undefined) return 0
  const { share = '100 %', lasts } = breakage.clearing
  const perPiece = wafers * quantity('share', breakage.share) * quantity('share', share)
  return (perPiece * meanTime(lasts)) / cycle
}
