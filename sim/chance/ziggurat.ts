import type { Stream } from './streams.ts'

/** Layers of equal area under exp(-x^2 / 2), x > 0; the lowest has the tail beyond `TAIL`. */
const LAYERS = 256
const TAIL = 3.654152885361009
const AREA = 0.00492867323397466

/** Right end of each layer (of the lowest: of a rectangle of its area), and 0 above the highest. */
const ENDS = new Float64Array(LAYERS + 1)
/** Share of a layer that lies under the curve whatever the height. */
const INNER = new Float64Array(LAYERS)

const density = (x: number) => Math.exp(-0.5 * x * x)

ENDS[0] = AREA / density(TAIL)
ENDS[1] = TAIL
for (let i = 1; i < LAYERS - 1; i++) ENDS[i + 1] = Math.sqrt(-2 * Math.log(AREA / ENDS[i] + density(ENDS[i])))
for (let i = 0; i < LAYERS; i++) INNER[i] = ENDS[i + 1] / ENDS[i]

/** For tests; the sampler does not look up what is exported. */
export const ends = (): Float64Array => ENDS

/**
 * Draws standard normal scores at the cost of one value of the stream in 99 of 100 cases:
 * a point in a layer, drawn again if it lies above the curve. The layer is told by the
 * first 8 bits of the value, the place in it by the 45 bits that follow.
 *
 * Source: Marsaglia & Tsang (2000), The Ziggurat Method for Generating Random Variables,
 * Journal of Statistical Software 5(8), with layer and place from different bits as Doornik
 * (2005), An Improved Ziggurat Method to Generate Normal Random Samples, asks for. The end
 * of the lowest of 256 layers and their area are those of the first, to more digits.
 */
export function normalSampler(stream: Stream): () => number {
  return () => {
    for (;;) {
      const value = stream() * LAYERS
      const layer = Math.floor(value)
      const place = 2 * (value - layer) - 1
      const score = place * ENDS[layer]
      if (Math.abs(place) < INNER[layer]) return score
      if (layer === 0) return tailScore(stream, place < 0)
      const lowest = density(ENDS[layer])
      if (lowest + stream() * (density(ENDS[layer + 1]) - lowest) < density(score)) return score
    }
  }
}

/** A score beyond the lowest layer, by Marsaglia (1964), Generating a Variable from the Tail of the Normal Distribution, Technometrics 6(1). */
function tailScore(stream: Stream, negative: boolean): number {
  for (;;) {
    const beyond = -Math.log(stream()) / TAIL
    if (-2 * Math.log(stream()) > beyond * beyond) return negative ? -(TAIL + beyond) : TAIL + beyond
  }
}
