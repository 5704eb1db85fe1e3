import type { OccasionsPlan } from '../plan/plan.ts'
import * as Plans from '../plan/plan.ts'
import { drawer, type RunKey } from './draw.ts'

const { TICKS_PER_WEEK } = Plans

/**
 * Stops that come at times of their own, whatever a tool does: each reader walks through
 * the same occasions. `end` is Infinity when an occasion has none of its own.
 */
export class Occasions {
  start = -Infinity
  end = -Infinity
  private readonly advance: () => void

  constructor(plan: OccasionsPlan, key: RunKey) {
    this.advance = plan.kind === 'weekly' ? this.weekly(plan) : this.random(plan, key)
  }

  /** Goes to the first occasion that is not over at `time` (one without an end: that starts after it). */
  seek(time: number): void {
    while (this.end === Infinity ? this.start <= time : this.end <= time) this.advance()
  }

  private weekly({ starts, ends }: OccasionsPlan & { kind: 'weekly' }): () => void {
    // One week before the run: an occasion may have begun by then.
    let next = ends ? -starts.length : 0
    return () => {
      const week = Math.floor(next / starts.length)
      const index = next - week * starts.length
      this.start = week * TICKS_PER_WEEK + starts[index]
      this.end = ends ? week * TICKS_PER_WEEK + ends[index] : Infinity
      next++
    }
  }

  private random({ every, lasts, stream }: OccasionsPlan & { kind: 'random' }, key: RunKey): () => void {
    const drawEvery = drawer(every, key, 1, stream, 'every')
    const drawLasts = drawer(lasts, key, 1, stream, 'lasts')
    let last = 0
    return () => {
      last = this.start = last + drawEvery()
      this.end = this.start + drawLasts()
    }
  }
}

/** The first of the sorted ticks of the week at or after `time`, week after week; Infinity when there is none. */
export function nextInWeek(ticks: readonly number[], time: number): number {
  if (ticks.length === 0) return Infinity
  const week = Math.floor(time / TICKS_PER_WEEK) * TICKS_PER_WEEK
  for (const tick of ticks) if (week + tick >= time) return week + tick
  return week + TICKS_PER_WEEK + ticks[0]
}
