import { quantity } from '../base/quantity.ts'
import { meanTime } from './means.ts'
import type { Batch, Belt, Step } from './types.ts'

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
export function handling({ loading = '0 s', unloading = '0 s' }: Batch): number {
  return meanTime(loading) + meanTime(unloading)
}
