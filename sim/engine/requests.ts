import { Rings } from './rings.ts'

/** The places of a channel as they are used, and the requests that a direct one has instead: each may be void from a tick on. */
export abstract class Requests extends Rings {
  /**
   * Direct channels: a tool is idle from `time` on and will take a wafer put before `until`. Tools take in the
   * order of their requests, so that a wafer that uses one is taken by who has made it.
   */
  request(time: number, until: number, tool = 0): void {
    if (this.roomLeft > this.roomMask) this.growRequests()
    const tail = (this.roomHead + this.roomLeft) & this.roomMask
    this.room[tail] = time
    this.voidFrom[tail] = until
    this.asker[tail] = tool
    this.roomLeft++
  }

  /** Direct channels: the last request of the tool is void from `until` on, unless a wafer has used it. */
  shortenRequest(tool: number, until: number): void {
    for (let i = this.roomLeft - 1; i >= 0; i--) {
      const entry = (this.roomHead + i) & this.roomMask
      if (this.asker[entry] !== tool) continue
      this.voidFrom[entry] = Math.min(this.voidFrom[entry], until)
      return
    }
  }

  /** Direct channels: from this tick on requests may turn out to be void. @returns whether that is later than before */
  limitRequests(unsureFrom: number): boolean {
    const grew = unsureFrom > this.unsureFrom
    this.unsureFrom = unsureFrom
    if (this.roomLeft > 0) this.takesFrom = Math.min(this.takesFrom, unsureFrom)
    return grew
  }

  /** Direct channels with one tool: so many requests have been used, each made when the wafer before was done, and this is the next. */
  askAfter(count: number, time: number, until: number): void {
    this.roomHead = (this.roomHead + count) & this.roomMask
    this.room[this.roomHead] = time
    this.voidFrom[this.roomHead] = until
  }

  /** Uses the place that `roomAt` found for `time`; requests that are void by then go with it. */
  useRoom(time: number): void {
    if (this.direct) while (this.voidFrom[this.roomHead] <= time) this.dropRoom()
    this.dropRoom()
  }

  private dropRoom(): void {
    this.roomHead = (this.roomHead + 1) & this.roomMask
    this.roomLeft--
  }

  /** A request may be void when the wafer is ready: only looked at, since an earlier wafer may still come and use it. */
  protected requestAt(from: number): number {
    for (let i = 0; i < this.roomLeft; i++) {
      const entry = (this.roomHead + i) & this.roomMask
      const time = Math.max(this.room[entry], from)
      if (this.voidFrom[entry] > time) return time < this.unsureFrom ? time : Infinity
    }
    return Infinity
  }
}
