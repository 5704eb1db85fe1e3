import type { Line } from './types.ts'

/** Hours of a year without an end of work. */
export const ALL_HOURS = 8760

/** Hours of a year in which a line is at work, the closed hours of its week included. */
export function hoursPerYear(line: Line): number {
  return line.money?.hoursPerYear ?? ALL_HOURS
}
