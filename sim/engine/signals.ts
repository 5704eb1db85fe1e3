import { START } from './start.ts'

/** Bits of `hears`. */
export const SUPPLIERS = 1
export const CUSTOMERS = 2

/** What stations and the drive leave for each other: who has news, who waits for some. */
export class Signals {
  /** A station promises more than before its last visit. */
  grew = false
  /** Eager drive: acts go up to, not including, this tick. */
  limit = START
  /** Per position, 1: the station waits for what those with whom it shares something do or promise. */
  readonly wants: Uint8Array
  /** Per position: whose news matter to the station as it stands, SUPPLIERS, CUSTOMERS or both. */
  readonly hears: Uint8Array

  /** Per position, 1: a supplier has had the station act within its own loop, which its other neighbours do not know yet. */
  readonly pressed: Uint8Array

  constructor(stations: number) {
    this.pressed = new Uint8Array(stations)
    this.wants = new Uint8Array(stations)
    this.hears = new Uint8Array(stations).fill(SUPPLIERS | CUSTOMERS)
  }
}
