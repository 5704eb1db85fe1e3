import type { Recording } from '../../sim/measure/recording.ts'
import { STATE_NAMES, type StateKey } from './states.ts'

/** A recorded stretch as the page plays it. */
export interface ShiftView {
  /** Time of the first sample, from the start of the run [h]. */
  readonly startHours: number
  readonly everySeconds: number
  readonly samples: number
  /** Per station, by the name that the picture has: one text per tool, a digit per sample (number of the state). */
  readonly stations: Readonly<Record<string, readonly string[]>>
  /** Per name, in the order of the route: wafers at the first sample, then changes. */
  readonly stores: Readonly<Record<string, readonly (readonly number[])[]>>
  /** Good cells since the sample before. */
  readonly good: readonly number[]
  readonly states: readonly { readonly key: StateKey; readonly name: string }[]
}

/** A recording, keyed by the names of the picture. */
export function shiftView(recording: Recording, states: readonly StateKey[]): ShiftView {
  const { startHours, everySeconds, samples, good } = recording
  const stores = new Map<string, (readonly number[])[]>()
  for (const { name, changes } of recording.stores) stores.set(name, [...(stores.get(name) ?? []), changes])
  return {
    startHours,
    everySeconds,
    samples,
    stations: Object.fromEntries(recording.stations.map(({ name, tools }) => [name, tools])),
    stores: Object.fromEntries(stores),
    good,
    states: states.map(key => ({ key, name: STATE_NAMES[key] })),
  }
}
