import { mean, standardDeviation } from './summary.ts'

/**
 * How far the path of a count by chance strays from the straight line between its ends, in
 * standard errors of its last value, in one case of a hundred: the range of a Brownian bridge.
 * Source: Kuiper (1960), Proceedings of the Koninklijke Nederlandse Akademie van Wetenschappen
 * A 63, 38-47, asymptotic upper 1 % point (from memory).
 */
const BY_CHANCE = 2.001

/**
 * Pieces that the edges of a window let in or not, of a count that comes in lumps: loads that
 * leave together, whose rhythm is the same in all replications, so that the scatter between these
 * says nothing of it. It is how far the mean path of the count strays from the straight line
 * between its ends, up and down together.
 *
 * @param paths per replication: the count from the start of the window on, at moments equally far apart, from 0 on
 * @returns pieces; 0 where chance alone explains how far it strays
 */
export function lumpsOf(paths: readonly ArrayLike<number>[]): number {
  const last = paths[0].length - 1
  if (last < 1) return 0
  const ends = paths.map(path => path[last])
  const end = mean(ends)
  let least = 0
  let most = 0
  for (let moment = 1; moment < last; moment++) {
    const passed = paths.reduce((sum, path) => sum + path[moment], 0) / paths.length
    const strays = passed - (end * moment) / last
    least = Math.min(least, strays)
    most = Math.max(most, strays)
  }
  const error = paths.length > 1 ? standardDeviation(ends) / Math.sqrt(paths.length) : 0
  return most - least > BY_CHANCE * error ? most - least : 0
}
