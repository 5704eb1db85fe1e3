/** Nobody is called; called, and the tool works on; called, and the tool stands by now; granted. */
const NONE = 0
const WORKS_ON = 1
const STANDS = 2
const GRANTED = 3

/**
 * Calls for stops that are due while their tools work on until people are there. Where such
 * a stop is in that, by tool. For the desk its handle is negative: a tool that works on may
 * go down for another stop, and call for that.
 */
export class CallsAhead {
  private readonly state: Uint8Array
  private readonly lasts: Float64Array
  private readonly there: Float64Array

  constructor(
    stops: number,
    private readonly tools: number,
  ) {
    this.state = new Uint8Array(stops * tools)
    this.lasts = new Float64Array(stops * tools)
    this.there = new Float64Array(stops * tools)
  }

  handleOf(tool: number, stop: number): number {
    return -1 - (stop * this.tools + tool)
  }

  toolOf(handle: number): number {
    return (-1 - handle) % this.tools
  }

  stopOf(handle: number): number {
    return Math.floor((-1 - handle) / this.tools)
  }

  called(tool: number, stop: number, lasts: number): void {
    const index = stop * this.tools + tool
    this.state[index] = WORKS_ON
    this.lasts[index] = lasts
    this.there[index] = Infinity
  }

  /** The tool has worked on for as long as it may. */
  stands(tool: number, stop: number): void {
    this.state[stop * this.tools + tool] = STANDS
  }

  granted(tool: number, stop: number, there: number): void {
    const index = stop * this.tools + tool
    this.state[index] = GRANTED
    this.there[index] = there
  }

  /** The stop is over, or need not be any more. @returns whether the tool was working on, and nobody granted */
  over(tool: number, stop: number): boolean {
    const index = stop * this.tools + tool
    const worksOn = this.state[index] === WORKS_ON
    this.state[index] = NONE
    return worksOn
  }

  isCalled(tool: number, stop: number): boolean {
    return this.state[stop * this.tools + tool] !== NONE
  }

  /** When people are there [ticks]; Infinity: that is not known yet. */
  thereFrom(tool: number, stop: number): number {
    return this.there[stop * this.tools + tool]
  }

  /** How long the stop will last [ticks]. */
  lastsOf(tool: number, stop: number): number {
    return this.lasts[stop * this.tools + tool]
  }
}
