import { openStream } from '../../sim/chance/streams.ts'
import type { Line, Stop } from '../../sim/line/types.ts'

const TOOLS = [2, 4, 2, 3, 3, 2, 4, 2, 2, 2, 2, 2, 2, 4]

/**
 * `bench-14`: 14 steps of single-wafer tools; cycle time of each tool 0.45 s x (tools in
 * its step) x uniform(0.95, 1.05); buffers of 200; each tool stops after exponential 4 h
 * of running for exponential 10 min; breakage 0.05 % per step; saturated feed.
 */
export function bench14(): Line {
  return benchLine('bench-14', 14, 200)
}

/** A line of `steps` steps as those of `bench-14`, with buffers of `capacity` between them. */
export function benchLine(name: string, steps: number, capacity: number): Line {
  const draw = openStream('bench-14', 0, 'cycles')
  const route: Line['route'][number][] = []
  for (let index = 0; index < steps; index++) {
    const tools = TOOLS[index % TOOLS.length]
    if (index > 0) route.push({ buffer: `buffer ${index}`, capacity })
    route.push({
      step: `step ${index + 1}`,
      tools,
      cycles: Array.from({ length: tools }, () => `${0.45 * tools * (0.95 + 0.1 * draw())} s` as const),
      breakage: '0.05 %',
      stops: [{ stop: 'breakdown', every: { exponential: '4 h' }, lasts: { exponential: '10 min' } }],
    })
  }
  return { line: name, from: 'invented', route }
}

/** Whether somebody must come to the stops of a line, or they end by themselves. */
export type Served = 'by a crew' | 'by nobody'

/**
 * A line as `benchLine` makes it, whose tools share a stop every 2 min, which lasts 30 s:
 * a quarter of the time of the one person who is called, if any.
 */
export function stoppedLine(steps: number, served: Served): Line {
  const line = benchLine(`stops served ${served}`, steps, 200)
  const tools = Array.from({ length: steps }, (_, index) => TOOLS[index % TOOLS.length])
  const all = tools.reduce((sum, count) => sum + count, 0)
  const jam: Stop = {
    stop: 'jam',
    counts: 'calendar time',
    every: { exponential: `${2 * all} min` },
    lasts: { exponential: '30 s' },
    ...(served === 'by a crew' && { skill: 'operators' }),
  }
  const route = line.route.map(item =>
    'step' in item ? { ...item, stops: [...(item.stops ?? []), jam] } : item,
  )
  return { ...line, route, ...(served === 'by a crew' && { crews: { operators: { heads: 1 } } }) }
}

/** Three slow steps with all that costs memory: for runs of many years. */
export function slowLine(): Line {
  const stops = [
    { stop: 'breakdown', every: { exponential: '4 h' }, lasts: { exponential: '10 min' } },
  ] as const
  return {
    line: 'slow line',
    from: 'invented',
    route: [
      { step: 'first', cycle: { exponential: '60 s' }, breakage: '0.1 %', stops },
      { buffer: 'between', capacity: 200 },
      { step: 'second', tools: 2, cycle: '110 s', stops },
      { step: 'third', belt: { spacing: '50 s', transit: '20 min' } },
    ],
  }
}
