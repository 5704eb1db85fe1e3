import { COARSE_BLOCKS } from '../engine/blocks.ts'
import { WAIT_BINS, waitEdge } from '../engine/crew-book.ts'
import { headsAt } from '../engine/desk.ts'
import { type PeoplePlan, TICKS_PER_HOUR } from '../plan/plan.ts'
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
  /** From the call until people are there [min]. */
  readonly waitMinutes: number | undefined
  readonly waitMinutesP95: number | undefined
}

/**
 * @param coarse length of a coarse block [ticks]
 * @param cut first coarse block of the window
 */
export function crewWindow(
  people: PeoplePlan,
  rows: PeopleRows,
  crew: number,
  coarse: number,
  cut: number,
): CrewWindow {
  const { present, lasts } = presence(people, crew, cut * coarse, COARSE_BLOCKS * coarse)
  const work = present.map((_, shift) => blockSum(rows.work, people, crew, present.length, shift, cut))
  const calls = blockSum(rows.calls, people, crew, 1, 0, cut)
  const waited = blockSum(rows.waited, people, crew, 1, 0, cut)
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
  return {
    utilisation: ratio(sum(work), sum(present)),
    // The last entry is the time outside all shifts.
    byShift: present.slice(0, people.shifts.length).map((ticks, shift) => ({
      heads: ratio(ticks, lasts[shift]),
      utilisation: ratio(work[shift], ticks),
    })),
    callsPerDay: calls / (((COARSE_BLOCKS - cut) * coarse) / (24 * TICKS_PER_HOUR)),
    waitMinutes: inMinutes(ratio(waited, calls)),
    waitMinutesP95: inMinutes(waitQuantile(people, rows, crew, cut, 0.95)),
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
  for (let block = cut; block < COARSE_BLOCKS; block++)
    sum += table[(block * people.crews.length + crew) * columns + column]
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
    const until = Math.min(to, nextStep(people, crew, time))
    const shift = shiftAt(people, time)
    const cell = shift < 0 ? people.shifts.length : shift
    present[cell] += headsAt(people.crews[crew], time) * (until - time)
    lasts[cell] += until - time
    time = until
  }
  return { present, lasts }
}

const WEEK = 168 * TICKS_PER_HOUR

function shiftAt({ week }: PeoplePlan, time: number): number {
  return week.findLast(({ from }) => from <= time % WEEK)?.shift ?? -1
}

/** The next tick at which shift or heads change. */
function nextStep({ week, crews }: PeoplePlan, crew: number, time: number): number {
  const start = time - (time % WEEK)
  const steps = [...week, ...crews[crew].heads].map(({ from }) => start + from).filter(tick => tick > time)
  return Math.min(start + WEEK, ...steps)
}

/** Quantile of the waits from coarse block `cut` on [ticks], by linear interpolation within the class. */
function waitQuantile(
  people: PeoplePlan,
  rows: PeopleRows,
  crew: number,
  cut: number,
  p: number,
): number | undefined {
  const counts = new Float64Array(WAIT_BINS)
  for (let block = cut; block < COARSE_BLOCKS; block++)
    for (let bin = 0; bin < WAIT_BINS; bin++)
      counts[bin] += rows.waits[(block * people.crews.length + crew) * WAIT_BINS + bin]
  const total = counts.reduce((sum, count) => sum + count, 0)
  if (total === 0) return undefined
  let below = 0
  for (let bin = 0; bin < WAIT_BINS; bin++) {
    if (counts[bin] > 0 && below + counts[bin] >= p * total) {
      const share = (p * total - below) / counts[bin]
      return waitEdge(bin) + share * (waitEdge(bin + 1) - waitEdge(bin))
    }
    below += counts[bin]
  }
  return waitEdge(WAIT_BINS)
}
