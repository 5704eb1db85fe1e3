import type { ChannelPlan, StationPlan } from './plan.ts'

type Draft<T> = { -readonly [K in keyof T]: T[K] }

/** Most places that a door gets. */
const WIDEST = 64
/** A last-in-first-out store below this size is left as it is. */
const SMALL_STACK = 1024

/**
 * A junction that fills a large buffer has a hand-over place for one wafer at each door
 * without a store, so that its suppliers can run ahead of it by one wafer only. Some of
 * the buffer's own places are moved to the doors: as many places as before, wafers in the
 * same order (in a last-in-first-out store the newest few wait in line at its door), and
 * the stations on both sides run far ahead of each other.
 */
export function widenDoors(stations: readonly StationPlan[], channels: readonly Draft<ChannelPlan>[]): void {
  for (const station of stations) {
    if (station.kind !== 'junction' || station.outputs.length !== 1) continue
    const buffer = channels[station.outputs[0]]
    const doors = station.inputs
      .map(c => channels[c])
      .filter(door => door.from >= 0 && door.capacity === 1 && door.delay === 0)
    const consumer = stations[buffer.to]
    const needed = consumer.kind === 'batch' ? consumer.load : 0
    const spare = Math.min(buffer.capacity / 4, buffer.capacity - needed)
    const places = Math.min(WIDEST, Math.floor(spare / doors.length))
    const small = buffer.lifo && buffer.capacity < SMALL_STACK
    if (small || buffer.delay > 0 || buffer.capacity === Infinity || !(places > 1)) continue
    for (const door of doors) {
      door.capacity = places
      door.place = buffer.place
    }
    buffer.capacity -= doors.length * places
  }
}
