import type { Stream } from './streams.ts'

/**
 * Hazard of a chance: hazards of chances that are independent add up, and nothing happens
 * with exp(-hazard). Infinity of a certainty.
 *
 * @param share probability; beyond 1 a certainty too
 */
export function hazardOf(share: number): number {
  // By its series, to the last digit, where that is short: the logarithm would cost most of a look at a wafer.
  if (share < 0.001) return share * (1 + share * (1 / 2 + share * (1 / 3 + share * (1 / 4 + share / 5))))
  return share < 1 ? -Math.log1p(-share) : Infinity
}

/**
 * Chances taken one after the other, each with a hazard of its own, at the cost of one draw
 * for each that comes true: a unit exponential is drawn, and the hazards are taken off it.
 * It has no memory, so each comes true with its own probability, whatever came before.
 * Source: Devroye, Non-Uniform Random Variate Generation (1986), chapter VI.2 (variates with a given hazard rate).
 */
export class Hazards {
  private left: number

  constructor(private readonly stream: Stream) {
    this.left = this.draw()
  }

  /** Whether the next chance comes true. */
  strikes(hazard: number): boolean {
    this.left -= hazard
    if (this.left > 0) return false
    this.left = this.draw()
    return true
  }

  /** Of so many chances with the same hazard, the first that comes true; `count` when none does. Those after it are not taken. */
  first(hazard: number, count: number): number {
    let left = this.left - 0
    for (let i = 0; i < count; i++) {
      left -= hazard
      if (left > 0) continue
      this.left = this.draw()
      return i
    }
    this.left = left
    return count
  }

  private draw(): number {
    return -Math.log(this.stream())
  }
}
