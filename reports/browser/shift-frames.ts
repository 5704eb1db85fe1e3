import type { ShiftView } from '../view/shift.ts'

/** A recorded stretch, sample by sample. */
export interface Frames {
  readonly count: number
  /** Number of the state of each tool of a station at a sample. */
  states(station: string, sample: number): readonly number[]
  /** Wafers in each store of a name at a sample, in the order of the route. */
  level(store: string, turn: number, sample: number): number
  /** Tools in each state at a sample, by the number of the state. */
  counts(sample: number): readonly number[]
  /** Good cells per hour over the quarter of an hour that ends with the sample; undefined at the very start. */
  perHour(sample: number): number | undefined
  /** Good cells since the first sample. */
  good(sample: number): number
  /** Time of a sample from the start of the run [h]. */
  hours(sample: number): number
}

const STATES = 8
/** Output is averaged over so much time [h]. */
const WINDOW = 0.25

/** Sums the changes up once, so that any sample can be looked at. */
export function framesOf(shift: ShiftView): Frames {
  const sums = (changes: readonly number[]) => {
    let level = 0
    return Int32Array.from(changes, change => {
      level += change
      return level
    })
  }
  const levels = new Map(Object.entries(shift.stores).map(([name, list]) => [name, list.map(sums)]))
  const good = sums(shift.good)
  const digits = (text: string, sample: number) => text.charCodeAt(sample) - 48
  const hours = (sample: number) => shift.startHours + (sample * shift.everySeconds) / 3600
  return {
    count: shift.samples,
    states: (station, sample) => (shift.stations[station] ?? []).map(text => digits(text, sample)),
    level: (store, turn, sample) => levels.get(store)?.[turn]?.[sample] ?? 0,
    counts(sample) {
      const counts = new Array<number>(STATES).fill(0)
      for (const tools of Object.values(shift.stations))
        for (const text of tools) counts[digits(text, sample)] = (counts[digits(text, sample)] ?? 0) + 1
      return counts
    },
    perHour(sample) {
      const from = Math.max(0, sample - Math.max(1, Math.round((WINDOW * 3600) / shift.everySeconds)))
      if (sample === from) return undefined
      return ((good[sample] ?? 0) - (good[from] ?? 0)) / (hours(sample) - hours(from))
    },
    good: sample => good[sample] ?? 0,
    hours,
  }
}

/** A time of the run for a reader: `day 2, 03:41:30`. */
export function clockText(hours: number): string {
  const seconds = Math.round(hours * 3600)
  const two = (value: number) => String(value).padStart(2, '0')
  const day = Math.floor(seconds / 86400) + 1
  return `day ${day}, ${two(Math.floor((seconds % 86400) / 3600))}:${two(Math.floor((seconds % 3600) / 60))}:${two(seconds % 60)}`
}
