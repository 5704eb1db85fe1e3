import type { Share, Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'

export type Day = 'Mon' | 'Tue' | 'Wed' | 'Thu' | 'Fri' | 'Sat' | 'Sun'
/** Time of day, 24 hours: `06:00`. */
export type DayTime = `${number}:${number}`
/** `06:00` every day, or `Mon 06:00` every week. A run starts on Monday at 00:00. */
export type ClockTime = DayTime | `${Day} ${DayTime}`

/** The week, repeated from the start of the run. Outside all shifts the line is closed (non-scheduled time). */
export interface Calendar {
  readonly shifts: Readonly<Record<string, Shift>>
  /** Before the line closes, no wafers enter for this long: it runs down. Default 0 s. */
  readonly runDown?: Time
  readonly from?: string
}

export interface Shift {
  readonly from: DayTime
  /** At or before `from`: on the next day. */
  readonly to: DayTime
  /** Days on which it starts. Default all. */
  readonly days?: readonly Day[]
  /** Tools work on; people are away. */
  readonly breaks?: readonly Break[]
}

export interface Break {
  readonly at: DayTime
  readonly lasts: Time
  /** Share of each crew that stays (relief), rounded down. Default 0 %. */
  readonly relief?: Share
}

/**
 * People who serve stops and move carriers: first come first served within priority.
 * Who has begun a job ends it, in a break and after the shift too.
 */
export interface Crew {
  /** Always, or by the name of the shift (a shift that is not named has none). */
  readonly heads: number | Readonly<Record<string, number>>
  /** What they can do. Default: the name of the crew. */
  readonly skills?: readonly string[]
  /** Time to reach the tool. Default 0 s. */
  readonly reach?: Spread<Time>
  readonly from?: string
}

export interface Fleet {
  readonly number: number
  /** Time to reach the carriers. Default 0 s. */
  readonly reach?: Spread<Time>
  readonly from?: string
}

/** Strikes all tools of the steps at the same time, by the calendar; whoever is down is struck for the rest of it. */
export interface SiteEvent {
  readonly event: string
  /** From the start of one to the start of the next. */
  readonly every: Spread<Time>
  readonly lasts: Spread<Time>
  /** Names of steps. Default all. */
  readonly steps?: readonly string[]
  readonly inside?:
    | 'resume'
    | 'restart'
    | 'lose'
    | 'run out'
    | { readonly lose: number | readonly [number, number] }
  readonly kind?: 'unscheduled' | 'scheduled'
  readonly from?: string
}
