import type { Estimate } from '../stats/estimate.ts'

/**
 * The result of `run`: every figure of DESIGN 6 as an estimate over replications.
 * Plain data, no units hidden: hours, cells per hour, shares as fractions 0 to 1.
 */

/** Share of the window in each state, per tool on average. Adds up to 1. */
export interface StateShares {
  readonly productive: Estimate
  readonly starved: Estimate
  readonly blocked: Estimate
  readonly engineering: Estimate
  readonly scheduledDown: Estimate
  readonly unscheduledDown: Estimate
  readonly waitingForCrew: Estimate
  readonly nonScheduled: Estimate
}

/** ISO 22400-2: OEE = availability x performance x quality. */
export interface Oee {
  readonly availability: Estimate
  readonly performance: Estimate
  readonly quality: Estimate
  readonly oee: Estimate
}

export interface StopFigures {
  readonly stop: string
  readonly kind: 'unscheduled' | 'scheduled' | 'supply' | 'closed'
  readonly perDay: Estimate
  /** Tool-hours down per day. */
  readonly hoursPerDay: Estimate
  /** Mean length of one stop [min]; longest seen in any replication [min]. */
  readonly meanMinutes: Estimate
  readonly longestMinutes: number
  /** Wafers lost by it per day, its set-up wafers among them. */
  readonly lostPerDay: Estimate
  /** Tool-hours of waiting for people per day, part of `hoursPerDay`. */
  readonly waitHoursPerDay: Estimate
}

/** A crew, or a fleet of vehicles. */
export interface CrewFigures {
  readonly name: string
  readonly kind: 'crew' | 'fleet'
  /** Work / presence, as a fraction; work past the end of a shift counts, so it can pass 1. */
  readonly utilisation: Estimate
  readonly byShift: readonly {
    readonly shift: string
    readonly heads: number
    readonly utilisation: Estimate
  }[]
  readonly callsPerDay: Estimate
  /** From the call until people are there, their way included: mean and 95th percentile [min]. */
  readonly waitMinutes: Estimate
  readonly waitMinutesP95: Estimate
}

/** Wafers that came to a step later than a time limit allows. */
export interface TimeLimitFigures {
  readonly step: string
  readonly after: string
  readonly limitMinutes: number
  readonly latePerDay: Estimate
  /** Late / came to the step: started there, or scrapped or sent back by one of its limits instead; each coming counts. */
  readonly share: Estimate
  readonly scrappedPerDay: Estimate
  readonly sentBackPerDay: Estimate
}

/** Hidden defects that tests have found, by the step that made them. */
export interface HiddenDefectFigures {
  readonly made: string
  readonly rejectedPerDay: Estimate
}

export interface StepFigures {
  readonly name: string
  readonly kind: 'single' | 'belt' | 'batch'
  /** Tools in all lanes together (tubes for a batch tool). */
  readonly tools: number
  /** Wafers started per hour, passes of rework included. */
  readonly startsPerHour: Estimate
  /** Wafers handed on per hour. */
  readonly passedPerHour: Estimate
  /** Paper rate: what the step could do net of stops and closed hours, ignoring its neighbours [wafers/h]. */
  readonly staticPerHour: number
  readonly states: StateShares
  readonly oee: Oee
  /** Share of wafers started, by cause. */
  readonly broken: Estimate
  readonly rejected: Estimate
  readonly reworked: Estimate
  /** Set-up wafers after stops. */
  readonly setUp: Estimate
  /** Lost by stops, by waiting on a belt, and by time limits. */
  readonly lost: Estimate
  /** Passed on / taken in, rework not counted as loss. */
  readonly yield: Estimate
  /** Wafers on its tools, time average. */
  readonly wip: Estimate
  /** Wafers an hour that pile up behind it, so that the output is held there; absent where none do. */
  readonly pilesUpPerHour?: Estimate
  /** Absent when the places of short loads stay empty. */
  readonly dummies?: DummyFigures
  readonly stops: readonly StopFigures[]
  /** Each tool by itself, lane by lane in the order of the route. */
  readonly each: readonly ToolShares[]
}

/** Dummy wafers in the short loads of a step. */
export interface DummyFigures {
  /** Places filled with them. */
  readonly placesPerDay: Estimate
  /** The same over the runs that a dummy lasts. */
  readonly wornOutPerDay: Estimate
}

/** Time of one tool in each state, mean over replications; the interval is that of the step. */
export interface ToolShares {
  /** Name of the station: the step, after the names of its lanes. */
  readonly station: string
  /** Number within the station, from 1. */
  readonly tool: number
  readonly shares: Readonly<Record<keyof StateShares, number>>
}

export interface PlaceFigures {
  readonly name: string
  readonly kind: 'buffer' | 'conveyor' | 'carriers' | 'step' | 'gate' | 'rework' | 'hand-over'
  /** Absent when unlimited. */
  readonly capacity?: number
  readonly wip: Estimate
  /** Mean stay of a wafer [h], by Little's law. */
  readonly stayHours: Estimate
  /** Carriers that are cleaned or may break. */
  readonly wear?: WearFigures
}

/** Carriers that came back after cleaning, and those that came in place of broken ones. */
export interface WearFigures {
  readonly cleanedPerDay: Estimate
  readonly replacedPerDay: Estimate
}

/** Share of good wafers whose stay in the line was in this class [h]. */
export interface StayClass {
  readonly from: number
  readonly to: number
  readonly share: Estimate
}

export interface BinFigures {
  /** Bin number from 1; 0 is the box below the lowest bin. */
  readonly bin: number
  /** Edges in fractions (0.228 = 22.8 %). The lowest has no lower, the highest no upper edge. */
  readonly from?: number
  readonly to?: number
  readonly share: Estimate
  /** The same by colour, where colours are sorted; the box below the lowest bin has all colours. */
  readonly colours?: readonly { readonly colour: string; readonly share: Estimate }[]
}

/** The boxes of the sorters, all lanes together. */
export interface BoxFigures {
  /** Of each sorter. */
  readonly outputs: number
  readonly swapsPerDay: Estimate
  /** Tool-hours per day for which tools were held since an output had only full boxes; part of their time blocked. */
  readonly heldHoursPerDay: Estimate
}

export interface RunStudy {
  readonly line: string
  /** What the scenario says of itself. */
  readonly notes: readonly string[]
  readonly seed: string
  readonly version: string
  readonly drive: 'strict' | 'eager'
  readonly days: number
  readonly replications: number
  /** Level of every interval, e.g. 0.95. */
  readonly level: number
  readonly warmUp: {
    /** Start of the measured window [h]. */
    readonly cutHours: number
    /** What MSER-5 has found, rounded up to a block of the run [h]; cut are whole days or weeks where only those are alike. */
    readonly foundHours: number
    readonly windowHours: number
    /** False when MSER-5 found no end of the warm-up within the first half. */
    readonly settled: boolean
  }
  /** Set when a precision was asked for. */
  readonly precision?: {
    readonly wanted: number
    readonly reached: number
    readonly met: boolean
    readonly cap: number
  }
  readonly goodOutput: {
    readonly perHour: Estimate
    readonly megawattPerYear?: Estimate
    /** Hours of a year in which the line is at work, closed hours of its week included: `money.hoursPerYear`, or all. */
    readonly hoursPerYear?: number
    /** Mean efficiency of good cells, fraction. */
    readonly efficiency?: Estimate
    readonly shareOfTarget?: Estimate
    readonly targetPerHour?: number
  }
  readonly startedPerHour: Estimate
  /** What a feed with a pace of its own brings [wafers/h], where all of it is taken and none of it piles up in the line; absent otherwise. */
  readonly allOfFeedPerHour?: number
  /** Good / (good + lost) over the window. */
  readonly yield: Estimate
  readonly turnedAwayPerHour: Estimate
  readonly wip: Estimate
  readonly throughputHours: { readonly mean: Estimate; readonly median: Estimate; readonly p95: Estimate }
  /** Distribution of the throughput time; the end classes hold what lies beyond them. */
  readonly throughputClasses: readonly StayClass[]
  readonly steps: readonly StepFigures[]
  readonly places: readonly PlaceFigures[]
  readonly crews: readonly CrewFigures[]
  readonly losses: {
    readonly timeLimits: readonly TimeLimitFigures[]
    readonly hiddenDefects: readonly HiddenDefectFigures[]
  }
  readonly bins: readonly BinFigures[]
  /** Absent when boxes are never full. */
  readonly boxes?: BoxFigures
  readonly series: {
    /** End of each interval [h], from the start of the run. */
    readonly hours: readonly number[]
    /** Mean over replications. */
    readonly goodPerHour: readonly number[]
    readonly wip: readonly number[]
    /** Of each place, in the order of `places`: wafers there at the end of each interval, mean over replications. */
    readonly placeWip: readonly (readonly number[])[]
  }
  readonly audit: AuditFigures
  /** Starts of service simulated, all replications, warm-up included. */
  readonly waferSteps: number
  /** What a reader must know before trusting the figures, from a closed list. */
  readonly warnings: readonly Warning[]
}

/** To the wafer, summed over replications and the whole run. */
export interface AuditFigures {
  readonly wafersIn: number
  readonly good: number
  readonly broken: number
  readonly rejected: number
  readonly lost: number
  readonly inside: number
  /** Largest relative gap of Little's law (WIP x time against summed stays) in any replication. */
  readonly littleGap: number
  readonly passed: boolean
  readonly faults: readonly string[]
}

export interface Warning {
  readonly code:
    | 'warm-up not over'
    | 'precision not met'
    | 'line at rest'
    | 'no output'
    | 'short window'
    | 'early window'
    | 'lucky cut'
    | 'above paper'
    | 'stops never came'
  /** What it means here, with figures and names. */
  readonly text: string
  /** What to try. */
  readonly hint: string
}
