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
  const chains = chainsOf(stations)
  for (;;) {
    let acts = 0
    for (let c = 0; c < chains.length; c++) acts += advanceChain(chains[c], limit)
    for (let c = chains.length - 1; c >= 0; c--) acts += advanceChain(chains[c], limit)
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

/**
 * Stations that hand over directly can run ahead of each other by a wafer or two only:
 * such a chain is run to and fro by itself before the rest of the line is visited.
 */
function chainsOf(stations: readonly Station[]): Station[][] {
  const chains: Station[][] = []
  for (const station of stations) {
    const before = chains.at(-1)?.at(-1)
    const linked = before?.outputs.some((output, i) => output.direct && before.customers[i] === station)
    if (linked) chains.at(-1)?.push(station)
    else chains.push([station])
  }
  return chains
}

function advanceChain(chain: readonly Station[], limit: number): number {
  if (chain.length === 1) return chain[0].advance(VISIT, limit, false)
  let acts = 0
  for (;;) {
    let more = 0
    for (let s = 0; s < chain.length; s++) more += chain[s].advance(VISIT, limit, false)
    if (more === 0) return acts
    acts += more
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
