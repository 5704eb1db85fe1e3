import type { Stream } from './streams.ts'
import { normalSampler } from './ziggurat.ts'

/** So many values are drawn at once. */
const BLOCK = 32

/**
 * The values of a stream, drawn a block at a time: the same values in the same order, at
 * half the cost for what is drawn for each wafer.
 */
export class Ahead {
  /** The block; those before `used` are gone. */
  readonly values = new Float64Array(BLOCK)
  used = BLOCK
  private readonly drawOne: () => number

  /** @param as what is wanted: the values themselves, uniform in [0, 1), or standard normal scores */
  constructor(stream: Stream, as: 'uniform' | 'normal') {
    this.drawOne = as === 'normal' ? normalSampler(stream) : stream
  }

  next(): number {
    if (this.used === BLOCK) this.draw()
    return this.values[this.used++]
  }

  /** Draws a block if none is left. @returns values left from `used` on, at most `most`: who uses them counts `used` on */
  ready(most: number): number {
    if (this.used === BLOCK) this.draw()
    return Math.min(BLOCK - this.used, most)
  }

  private draw(): void {
    const { values, drawOne } = this
    for (let i = 0; i < BLOCK; i++) values[i] = drawOne()
    this.used = 0
  }
}
