import type { WindowFigures } from '../measure/window.ts'
import type { BoxesPlan, Plan } from '../plan/plan.ts'
import { estimateOf } from './assemble.ts'
import type { BinFigures, BoxFigures } from './run-study.ts'

/** Cells by bin and colour; none when the line does not sort. */
export function binFigures(plan: Plan, windows: readonly WindowFigures[], level: number): BinFigures[] {
  const { bins } = plan
  if (!bins) return []
  const { first, width, count } = bins
  const colours = bins.colours.length
  const edge = (n: number) => first + n * width
  // Of the classes from one on, so many.
  const share = (from: number, classes: number) =>
    estimateOf(
      windows.map(w => sumOf(w.bins.slice(from, from + classes))),
      level,
    )
  const lowest = { bin: 0, to: edge(0), share: share(0, 1) }
  const others = Array.from({ length: count }, (_, index) => {
    const from = 1 + index * colours
    return {
      bin: index + 1,
      from: edge(index),
      ...(index + 1 < count && { to: edge(index + 1) }),
      share: share(from, colours),
      ...(bins.colours[0] !== '' && {
        colours: bins.colours.map((colour, c) => ({ colour, share: share(from + c, 1) })),
      }),
    }
  })
  return [lowest, ...others]
}

function sumOf(shares: readonly (number | undefined)[]): number | undefined {
  return shares.reduce<number | undefined>(
    (sum, share) => (sum === undefined || share === undefined ? undefined : sum + share),
    0,
  )
}

/** The boxes that the last test sorts into; undefined when they are never full. */
export function boxFigures(
  plan: Plan,
  windows: readonly WindowFigures[],
  level: number,
): BoxFigures | undefined {
  const boxes = plan.stations.map(boxesOf).find(found => found !== undefined)
  if (!boxes) return undefined
  const of = (figure: (window: WindowFigures) => number) => estimateOf(windows.map(figure), level)
  return {
    outputs: boxes.outputs,
    swapsPerDay: of(w => w.swapsPerDay),
    heldHoursPerDay: of(w => w.heldHoursPerDay),
  }
}

function boxesOf(station: Plan['stations'][number]): BoxesPlan | undefined {
  return 'outcome' in station ? station.outcome.boxes : undefined
}
