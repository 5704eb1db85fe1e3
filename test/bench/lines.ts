import { openStream } from '../../sim/chance/streams.ts'
import type { Line } from '../../sim/line/types.ts'

const TOOLS = [2, 4, 2, 3, 3, 2, 4, 2, 2, 2, 2, 2, 2, 4]

/**
 * `bench-14`: 14 steps of single-wafer tools; cycle time of each tool 0.45 s x (tools in
 * its step) x uniform(0.95, 1.05); buffers of 200; each tool stops after exponential 4 h
 * of running for exponential 10 min; breakage 0.05 % per step; saturated feed.
 */
export function bench14(): Line {
  const draw = openStream('bench-14', 0, 'cycles')
  const route: Line['route'][number][] = []
  TOOLS.forEach((tools, index) => {
    if (index > 0) route.push({ buffer: `buffer ${index}`, capacity: 200 })
    route.push({
      step: `step ${index + 1}`,
      tools,
      cycles: Array.from({ length: tools }, () => `${0.45 * tools * (0.95 + 0.1 * draw())} s` as const),
      breakage: '0.05 %',
      stops: [{ stop: 'breakdown', every: { exponential: '4 h' }, lasts: { exponential: '10 min' } }],
    })
  })
  return { line: 'bench-14', from: 'invented', route }
}
