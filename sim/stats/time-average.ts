/** A quantity that holds `value` from `time` on until the next step; times rise. */
export type Step = readonly [time: number, value: number]

/**
 * Average over the time from `from` to `to` of a quantity that changes in steps:
 * its integral divided by the length. Throws RangeError when the first step comes
 * after `from` or the window has no length.
 */
export function timeAverage(steps: readonly Step[], from: number, to: number): number {
  let integral = 0
  for (const { value, length } of stretches(steps, from, to)) integral += value * length
  return integral / (to - from)
}

/** Largest value held for some time between `from` and `to`. Throws as `timeAverage` does. */
export function timeMaximum(steps: readonly Step[], from: number, to: number): number {
  return Math.max(...stretches(steps, from, to).map(({ value }) => value))
}

/** Values held within the window and for how long. */
function stretches(steps: readonly Step[], from: number, to: number): { value: number; length: number }[] {
  if (!(to > from)) throw new RangeError(`a window from ${from} to ${to} has no length`)
  if (steps.length === 0 || steps[0][0] > from)
    throw new RangeError(`no value is known at the start of the window, ${from}`)
  return steps
    .map(([time, value], i) => {
      const end = i + 1 < steps.length ? steps[i + 1][0] : Infinity
      return { value, length: Math.min(end, to) - Math.max(time, from) }
    })
    .filter(({ length }) => length > 0)
}
