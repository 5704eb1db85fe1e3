import type { CustomSeriesRenderItemAPI } from 'echarts'
import type { Scheme } from './scheme.ts'

type Ends = readonly (number | undefined)[]

/**
 * A series of whiskers from low to high, none where an end is missing: at each name of an
 * axis of names, or at the given places of an axis of numbers.
 */
export function whiskers(
  way: 'upright' | 'across',
  low: Ends,
  high: Ends,
  scheme: Scheme,
  places: readonly number[] = low.map((_, index) => index),
) {
  const at = (value: number | undefined) => value ?? Number.NaN
  const data = low.map((from, index) =>
    way === 'upright'
      ? [places[index] ?? index, at(from), at(high[index])]
      : [at(from), at(high[index]), places[index] ?? index],
  )
  return {
    type: 'custom' as const,
    silent: true,
    z: 5,
    encode: way === 'upright' ? { x: 0, y: [1, 2] } : { x: [0, 1], y: 2 },
    data,
    renderItem: (_: unknown, api: CustomSeriesRenderItemAPI) => {
      const value = (dimension: number) => Number(api.value(dimension))
      const ends =
        way === 'upright'
          ? [api.coord([value(0), value(1)]), api.coord([value(0), value(2)])]
          : [api.coord([value(0), value(2)]), api.coord([value(1), value(2)])]
      const [[x1, y1], [x2, y2]] = ends as [[number, number], [number, number]]
      if (![x1, y1, x2, y2].every(Number.isFinite)) return undefined
      const style = { stroke: scheme.ink, lineWidth: 1.4, fill: 'none' }
      const cap = 4
      const line = (shape: { x1: number; y1: number; x2: number; y2: number }) => ({
        type: 'line' as const,
        shape,
        style,
      })
      const caps =
        way === 'upright'
          ? [
              line({ x1: x1 - cap, y1, x2: x1 + cap, y2: y1 }),
              line({ x1: x2 - cap, y1: y2, x2: x2 + cap, y2 }),
            ]
          : [
              line({ x1, y1: y1 - cap, x2: x1, y2: y1 + cap }),
              line({ x1: x2, y1: y2 - cap, x2, y2: y2 + cap }),
            ]
      return { type: 'group' as const, children: [line({ x1, y1, x2, y2 }), ...caps] }
    },
  }
}
