import { normalScore } from './normal.ts'
import type { Stream } from './streams.ts'

/** So many values are drawn at once. */
const BLOCK = 32

/**
 * The values of a stream, drawn a block at a time: the same values in the same order, at
 * half the cost for what is drawn for each wafer.
 */
export class Ahead {
  private readonly values = new Float64Array(BLOCK)
  private used = BLOCK

  /** @param as what is wanted: the values themselves, uniform in [0, 1), or the standard normal scores that belong to them */
  constructor(
    private readonly stream: Stream,
    private readonly as: 'uniform' | 'normal',
  ) {}

  next(): number {
    if (this.used === BLOCK) this.draw()
    return this.values[this.used++]
  }

  private draw(): void {
    const { values, stream } = this
    if (this.as === 'normal') for (let i = 0; i < BLOCK; i++) values[i] = normalScore(stream())
    else for (let i = 0; i < BLOCK; i++) values[i] = stream()
    this.used = 0
  }
}
