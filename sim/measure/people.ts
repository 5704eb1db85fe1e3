import type { Blocks } from '../engine/blocks.ts'
import { WAITS } from '../engine/classes.ts'
import { type PeoplePlan, TICKS_PER_HOUR } from '../plan/plan.ts'
import { inForce, nextStep } from '../plan/week.ts'
import { classCounts, classQuantile } from './class-counts.ts'
import type { PeopleRows } from './rows.ts'

/** What one crew (or fleet) did in the window, of one replication. */
export interface CrewWindow {
  /** Work / presence, in all and by shift; undefined when nobody was there. */
  readonly utilisation: number | undefined
  /** Heads: mean while the shift is on. */
  readonly byShift: readonly {
    readonly heads: number | undefined
    readonly utilisation: number | undefined
  }[]
  readonly callsPerDay: number
  /** From the call, or from when a tool that has worked on stands, until people are there [min]. */
  readonly waitMinutes: number | undefined
  readonly waitMinutesP95: number | undefined
}

/**
 * @param cut first coarse block of the window
 */
export function crewWindow(
  people: PeoplePlan,
  rows: PeopleRows,
  crew: number,
  { coarse, horizon }: Blocks,
  cut: number,
): CrewWindow {
  const { present, lasts } = presence(people, crew, cut * coarse, horizon)
  const work = present.map((_, shift) => blockSum(rows.work, people, crew, present.length, shift, cut))
  const calls = blockSum(rows.calls, people, crew, 1, 0, cut)
  const waited = blockSum(rows.waited, people, crew, 1, 0, cut)
  const waits = classCounts(rows.waits, WAITS, cut, { of: people.crews.length, index: crew })
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
  return {
    utilisation: ratio(sum(work), sum(present)),
    // The last entry is the time outside all shifts.
    byShift: present.slice(0, people.shifts.length).map((ticks, shift) => ({
      heads: ratio(ticks, lasts[shift]),
      utilisation: ratio(work[shift], ticks),
    })),
    callsPerDay: calls / ((horizon - cut * coarse) / (24 * TICKS_PER_HOUR)),
    waitMinutes: inMinutes(ratio(waited, calls)),
    waitMinutesP95: inMinutes(classQuantile(waits, WAITS, 0.95)),
  }
}

function blockSum(
  table: Float64Array,
  people: PeoplePlan,
  crew: number,
  columns: number,
  column: number,
  cut: number,
): number {
  let sum = 0
  const width = people.crews.length * columns
  for (let row = cut * width; row < table.length; row += width) sum += table[row + crew * columns + column]
  return sum
}

function ratio(part: number, whole: number): number | undefined {
  return whole > 0 ? part / whole : undefined
}

function inMinutes(ticks: number | undefined): number | undefined {
  return ticks === undefined ? undefined : ticks / (TICKS_PER_HOUR / 60)
}

/** Head x ticks, and ticks, from one tick to another, by shift and (last) outside all shifts. */
function presence(
  people: PeoplePlan,
  crew: number,
  from: number,
  to: number,
): { present: number[]; lasts: number[] } {
  const present = new Array<number>(people.shifts.length + 1).fill(0)
  const lasts = [...present]
  for (let time = from; time < to; ) {
    const { heads } = people.crews[crew]
    const until = Math.min(to, nextStep(people.week, time), nextStep(heads, time))
    const { shift } = inForce(people.week, time)
    const cell = shift < 0 ? people.shifts.length : shift
    present[cell] += inForce(heads, time).heads * (until - time)
    lasts[cell] += until - time
    time = until
  }
  return { present, lasts }
}
