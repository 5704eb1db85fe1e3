/** What stations and the drive leave for each other: who has news, who waits for some. */
export class Signals {
  /** A station promises more than before its last visit. */
  grew = false
  /** Per position, 1: the station waits for what those with whom it shares something do or promise. */
  readonly wants: Uint8Array

  constructor(stations: number) {
    this.wants = new Uint8Array(stations)
  }
}
