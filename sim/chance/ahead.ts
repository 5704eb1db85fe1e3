import { normalScores } from './normal.ts'
import type { Stream } from './streams.ts'

/** So many values are drawn at once. */
const BLOCK = 32

/** The shares of a block of scores. */
const SHARES = new Float64Array(BLOCK)

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
    const shares = this.as === 'normal' ? SHARES : values
    for (let i = 0; i < BLOCK; i++) shares[i] = stream()
    if (shares !== values) normalScores(shares, values)
    this.used = 0
  }
}
