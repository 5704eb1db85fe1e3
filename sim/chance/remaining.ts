import type { Stream } from './streams.ts'

/** After so many intervals nothing tells any more when the first of them began, but a fixed one, of which the moment is spread over a whole one. */
const INTERVALS = 50

/**
 * What is left of the interval that a moment falls into, long after the first of many such intervals
 * began: of intervals with mean m and distribution F, at most x with probability
 * (1/m) x the integral of 1 - F from 0 to x (Cox 1962, Renewal Theory, section 5.2, from memory).
 * Found as it says, from interval to interval, since that needs no more of the law than that it can be drawn.
 *
 * @param draw the next interval, above 0
 * @param mean of the intervals
 * @returns above 0, at most the whole interval
 */
export function remainingOf(draw: () => number, mean: number, stream: Stream): number {
  let ahead = (INTERVALS + stream()) * mean
  for (;;) {
    const interval = draw()
    if (interval > ahead) return interval - ahead
    ahead -= interval
  }
}
