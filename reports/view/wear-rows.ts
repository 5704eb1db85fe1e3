import type { RunStudy } from '../../sim/study/run-study.ts'
import { amount, COUNTED, type Figure } from './format.ts'

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
        places: amount(dummies.placesPerDay, COUNTED),
        wornOut: amount(dummies.wornOutPerDay, COUNTED),
      },
    ]
  })
}

/** Carriers that are cleaned or may break. */
export function carrierRows(study: RunStudy): CarrierRow[] {
  return study.places.flatMap(({ name, wear }) => {
    if (!wear) return []
    return [
      { name, cleaned: amount(wear.cleanedPerDay, COUNTED), replaced: amount(wear.replacedPerDay, COUNTED) },
    ]
  })
}
