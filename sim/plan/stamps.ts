import { outputsOf } from './outputs.ts'
import type { ChannelPlan, StationPlan, ToolPlan } from './plan.ts'

type Draft<T> = { -readonly [K in keyof T]: T[K] }

/** Steps by their index. */
type Steps = ReadonlySet<number>

/**
 * Gives each step that a time limit counts from its column of the wafer table, and tells the
 * stations. When a wafer left such a step is kept until no step that it may still come to asks
 * for it, whatever way it goes; steps of which no wafer keeps the times together share a column.
 * On a line whose limits follow one another that is one column for all of them, and what
 * is written and read of a wafer lies in the same place all along the line. (Liveness and colouring,
 * as a compiler gives variables their registers: Chaitin 1982, from memory.)
 *
 * @returns number of columns
 */
export function stampColumns(
  stations: readonly Draft<StationPlan>[],
  channels: readonly ChannelPlan[],
): number {
  const asked = new Set(stations.flatMap(station => [...askedBy(station)]))
  if (asked.size === 0) return 0
  const together = keptTogether(stations, channels, asked)
  const columns = new Map<number, number>()
  for (const step of asked) {
    const taken = new Set([...(together.get(step) ?? [])].map(other => columns.get(other)))
    let column = 0
    while (taken.has(column)) column++
    columns.set(step, column)
  }
  for (const station of stations) {
    if (!isTool(station)) continue
    station.stamp = columns.get(station.step) ?? -1
    station.timeLimits = station.timeLimits.map(limit => ({
      ...limit,
      stamp: columns.get(limit.after) ?? -1,
    }))
  }
  return Math.max(...columns.values()) + 1
}

/** Of each step the others whose times wafers still keep when they leave it, and the other way round. */
function keptTogether(
  stations: readonly StationPlan[],
  channels: readonly ChannelPlan[],
  asked: Steps,
): ReadonlyMap<number, Steps> {
  const live = liveInto(stations, channels)
  const together = new Map([...asked].map(step => [step, new Set<number>()] as const))
  for (const station of stations)
    for (const output of station.outputs)
      for (const other of live[channels[output].to]) {
        if (other === station.step) continue
        together.get(station.step)?.add(other)
        if (asked.has(station.step)) together.get(other)?.add(station.step)
      }
  return together
}

/** Of each station the steps for whose times a wafer that comes in may be asked, there or later. */
function liveInto(stations: readonly StationPlan[], channels: readonly ChannelPlan[]): readonly Steps[] {
  const live = stations.map(askedBy)
  for (let before = -1, now = 0; now !== before; ) {
    before = now
    now = 0
    for (let s = stations.length - 1; s >= 0; s--) {
      // Whoever goes on from the step has a new time of it; before it nobody asks.
      for (const output of outputsOf(stations[s]))
        for (const step of live[channels[output].to]) if (step !== stations[s].step) live[s].add(step)
      now += live[s].size
    }
  }
  return live
}

function askedBy(station: StationPlan): Set<number> {
  return new Set(isTool(station) ? station.timeLimits.map(({ after }) => after) : [])
}

function isTool(station: StationPlan): station is ToolPlan {
  return 'timeLimits' in station
}
