import { geometricSampler } from '../chance/sampler.ts'
import { openStream } from '../chance/streams.ts'
import type { RunKey } from './draw.ts'

/** Whose wafers are counted. */
interface Counted {
  readonly name: string
  readonly tools: number
  readonly key: RunKey
}

/** Wafers until the next occurrence of one cause, per tool. */
export class Countdown {
  readonly left: Float64Array
  private readonly draw: (() => number)[] = []

  constructor(station: Counted, cause: string, share: number) {
    this.left = new Float64Array(station.tools).fill(Infinity)
    if (share <= 0) return
    const { seed, replication } = station.key
    for (let t = 0; t < station.tools; t++) {
      this.draw.push(
        geometricSampler(share, openStream(seed, replication, station.name, `tool ${t + 1}`, cause)),
      )
      this.left[t] = this.draw[t]()
    }
  }

  hit(tool: number): boolean {
    if (this.left[tool] > 0) return false
    this.left[tool] = this.draw[tool]()
    return true
  }
}
