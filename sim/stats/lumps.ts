/**
 * Pieces that the edges of a window let in or not, of a count that comes in lumps: loads that
 * leave together, whose rhythm is the same in all replications, so that the scatter between these
 * says nothing of it.
 *
 * How far each path strays from the straight line between its ends is split, over the moments, into
 * what all replications have in common and what is their own: the variance of the mean path, less
 * that which the scatter of the others about it leaves in a mean of so many (one-way analysis of variance;
 * Fisher 1925, Statistical Methods for Research Workers). A count that goes up by a load at a time
 * and down evenly strays over a range of a load, with a variance of its square / 12.
 *
 * @param paths per replication: the count from the start of the window on, at moments equally far apart, from 0 on
 * @returns pieces; 0 where nothing is common
 */
export function lumpsOf(paths: readonly ArrayLike<number>[]): number {
  const moments = paths[0].length
  const strays = paths.map(path => {
    const each = path[moments - 1] / Math.max(1, moments - 1)
    return Float64Array.from(path, (count, moment) => count - each * moment)
  })
  const n = paths.length
  const common = new Float64Array(moments)
  for (const path of strays)
    for (let moment = 0; moment < moments; moment++) common[moment] += path[moment] / n
  const own = strays.reduce(
    (sum, path) => sum + variance(path.map((stray, moment) => stray - common[moment])),
    0,
  )
  const left = n > 1 ? own / (n * (n - 1)) : 0
  return Math.sqrt(12 * Math.max(0, variance(common) - left))
}

/** Over all moments. */
function variance(path: Float64Array): number {
  const mean = path.reduce((sum, stray) => sum + stray, 0) / path.length
  return path.reduce((sum, stray) => sum + (stray - mean) ** 2, 0) / path.length
}
