import { START } from './start.ts'

/** Bits of `hears`. */
export const SUPPLIERS = 1
export const CUSTOMERS = 2
/** Those with whom something is shared. */
export const OTHERS = 4

/** What stations and the eager drive leave for each other: who has news, and whose news matter to whom. */
export class Signals {
  /** Acts go up to, not including, this tick. */
  limit = START
  /** Stations run ahead of each other. */
  eager = false
  /** A station promises more than before its last visit. */
  grew = false
  /** Per position: whose news matter to the station as it stands, SUPPLIERS, CUSTOMERS, OTHERS. */
  readonly hears: Uint8Array
  /** Per position, 1: the station has acted within the visit of another, of which its neighbours have not been told. */
  readonly acted: Uint8Array
  /** Stations that have acted so since `takeGuest` was last asked. */
  private readonly guests: Int32Array
  private count = 0

  constructor(stations: number) {
    this.hears = new Uint8Array(stations).fill(SUPPLIERS | CUSTOMERS)
    this.acted = new Uint8Array(stations)
    this.guests = new Int32Array(stations)
  }

  /** A station has acted within the visit of another. */
  actedWithin(position: number): void {
    if (this.acted[position] === 1) return
    this.acted[position] = 1
    this.guests[this.count++] = position
  }

  /** @returns position of a station that has acted within the present visit; -1: there is none, or none any more */
  takeGuest(): number {
    return this.count > 0 ? this.guests[--this.count] : -1
  }
}
