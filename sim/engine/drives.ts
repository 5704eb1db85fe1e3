import type { Station } from './station.ts'
import { Visits } from './visits.ts'

/**
 * The two drives. Same stations, same streams, same acts in the same order per station:
 * the results agree to the last bit. Both act up to, not including, `limit`.
 *
 * @returns false when the line is at rest: nothing is pending before the end of time
 */
export type Drive = (stations: readonly Station[], limit: number) => boolean

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
    for (const other of station.others) pending[other.position] = other.pending()
  }
}

/**
 * Runs each station as far ahead as is safe, see `Visits`. When visits move nothing any
 * more, the earliest act of the line is taken as the strict drive would.
 */
export const driveEager: Drive = (stations, limit) => {
  const visits = new Visits(stations, limit)
  for (;;) {
    visits.goOn()
    const station = certainly(stations, () => {
      const first = firstToAct(stations)
      if (!(first.pending() < limit)) return first
      first.advance(1, limit, true)
      visits.tellAll(first.position)
      return undefined
    })
    if (station) return finish(stations, limit, station.pending())
  }
}

/** Before the earliest act of the line nobody comes to a tool: what is asked for is not in doubt. */
function certainly<T>(stations: readonly Station[], act: () => T): T {
  const doubted = stations.flatMap(({ inputs: [input] }) =>
    input !== undefined && input.unsureFrom < Infinity ? [{ input, unsureFrom: input.unsureFrom }] : [],
  )
  for (const { input } of doubted) input.unsureFrom = Infinity
  const done = act()
  for (const { input, unsureFrom } of doubted) input.unsureFrom = Math.min(input.unsureFrom, unsureFrom)
  return done
}

/** The station whose act is the next in the order of the line. */
function firstToAct(stations: readonly Station[]): Station {
  let station = stations[stations.length - 1]
  let time = station.pending()
  for (let s = stations.length - 2; s >= 0; s--) {
    const next = stations[s].pending()
    if (next < time) {
      time = next
      station = stations[s]
    }
  }
  for (let other = station.yieldsTo(); other; other = station.yieldsTo()) station = other
  return station
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
