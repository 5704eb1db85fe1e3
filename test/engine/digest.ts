import type { Run } from '../../sim/engine/run.ts'

const ROWS = [
  'countRows',
  'areaRows',
  'counterRows',
  'stateRows',
  'stopRows',
  'binRows',
  'longest',
  'stays',
] as const

/** First difference between the books of two runs of one plan, in words; undefined when they agree to the last bit. */
export function difference(a: Run, b: Run): string | undefined {
  for (const [s, left] of a.works.stations.entries())
    for (const rows of ROWS) {
      const [x, y] = [left.meter[rows], b.works.stations[s].meter[rows]]
      for (let i = 0; i < x.length; i++)
        if (!Object.is(x[i], y[i])) return `${left.name}: ${rows}[${i}] is ${x[i]} against ${y[i]}`
    }
  return undefined
}
