import type { Station } from './station.ts'

/**
 * The two drives. Same stations, same streams, same acts in the same order per station:
 * the results agree to the last bit. Both act up to, not including, `limit`.
 *
 * @returns false when the line is at rest: nothing is pending before the end of time
 */
export type Drive = (stations: readonly Station[], limit: number) => boolean

/** Acts per visit: keeps what a station touches in the cache without visiting too often. */
const VISIT = 4096

/** Always takes the earliest act of the whole line; at equal times of the station furthest down. */
export const driveStrict: Drive = (stations, limit) => {
  const pending = Float64Array.from(stations, station => station.pending())
  for (;;) {
    const position = earliest(pending)
    if (!(pending[position] < limit)) return finish(stations, limit, pending[position])
    const station = stations[position]
    station.advance(1, limit, true)
    pending[position] = station.pending()
    for (const other of station.suppliers) if (other) pending[other.position] = other.pending()
    for (const other of station.customers) pending[other.position] = other.pending()
  }
}

/**
 * Runs each station as far ahead as is safe, down the route and up again. When a whole
 * round moves nothing, the earliest act of the line is taken as the strict drive would.
 */
export const driveEager: Drive = (stations, limit) => {
  for (;;) {
    let acts = 0
    for (let s = 0; s < stations.length; s++) acts += stations[s].advance(VISIT, limit, false)
    for (let s = stations.length - 1; s >= 0; s--) acts += stations[s].advance(VISIT, limit, false)
    if (acts > 0) continue
    let first = stations.length - 1
    let time = stations[first].pending()
    for (let s = first - 1; s >= 0; s--) {
      const next = stations[s].pending()
      if (next < time) {
        time = next
        first = s
      }
    }
    if (!(time < limit)) return finish(stations, limit, time)
    let station = stations[first]
    for (let other = station.yieldsTo(); other; other = station.yieldsTo()) station = other
    station.advance(1, limit, true)
  }
}

function earliest(pending: Float64Array): number {
  let best = 0
  for (let s = 1; s < pending.length; s++) if (pending[s] <= pending[best]) best = s
  return best
}

function finish(stations: readonly Station[], limit: number, next: number): boolean {
  for (const station of stations) station.closeBlocks(limit)
  return next < Infinity
}
