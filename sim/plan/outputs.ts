import type { StationPlan } from './plan.ts'

/** Channels into which a station puts: the main outputs, the rework channel, then those of late wafers that go back. */
export function outputsOf(station: StationPlan): readonly number[] {
  if (!('outcome' in station)) return station.outputs
  const rework = station.outcome.rework?.channel ?? -1
  const late = station.timeLimits.filter(limit => limit.late === 'back').map(limit => limit.channel)
  return [...station.outputs, ...(rework >= 0 ? [rework] : []), ...late]
}
