import type { RunStudy } from '../../sim/study/run-study.ts'
import { COUNTED, type Figure, figure } from './format.ts'

/** Dummy wafers in the short loads of a step, per day. */
export interface DummyRow {
  readonly step: string
  readonly places: Figure
  readonly wornOut: Figure
}

/** Carriers that came back after cleaning, or in place of broken ones, per day. */
export interface CarrierRow {
  readonly name: string
  readonly cleaned: Figure
  readonly replaced: Figure
}

/** Steps whose short loads are filled up. */
export function dummyRows(study: RunStudy): DummyRow[] {
  return study.steps.flatMap(({ name, dummies }) => {
    if (!dummies) return []
    return [
      {
        step: name,
        places: figure(dummies.placesPerDay, COUNTED),
        wornOut: figure(dummies.wornOutPerDay, COUNTED),
      },
    ]
  })
}

/** Carriers that are cleaned or may break. */
export function carrierRows(study: RunStudy): CarrierRow[] {
  return study.places.flatMap(({ name, wear }) => {
    if (!wear) return []
    return [
      { name, cleaned: figure(wear.cleanedPerDay, COUNTED), replaced: figure(wear.replacedPerDay, COUNTED) },
    ]
  })
}
