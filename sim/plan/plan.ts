import type { Law } from '../chance/law.ts'
import type {
  BinsPlan,
  BoatsPlan,
  CallPlan,
  OutcomePlan,
  PeoplePlan,
  TimeLimitPlan,
  TreatmentPlan,
} from './plan-parts.ts'

export type * from './plan-parts.ts'

/**
 * The plan: a line turned into stations and channels, names turned into indices,
 * quantities into clock ticks. Nothing here changes during a run.
 *
 * The clock counts whole and half microseconds in doubles, so sums of times are exact,
 * ties are true ties, and both drives of the engine agree to the last bit. A double
 * holds whole numbers up to 2^53: 285 years of microseconds.
 */
export const TICKS_PER_SECOND = 1e6
export const TICKS_PER_HOUR = 3.6e9
export const TICKS_PER_DAY = 24 * TICKS_PER_HOUR
export const TICKS_PER_WEEK = 168 * TICKS_PER_HOUR

/** Where wafers wait between two stations. */
export interface ChannelPlan {
  /** Place family: lanes of one group share it. Index into `Plan.places`. */
  readonly place: number
  /** Wafers it holds; 0 hands over directly, Infinity has always room. */
  readonly capacity: number
  /** From entering to being ready to leave [ticks]. */
  readonly delay: number
  readonly lifo: boolean
  /** Station that puts; -1: an endless supply from which the station below takes at will. */
  readonly from: number
  /** Station that takes. */
  readonly to: number
  /** What waits here is not in the line yet: a wafer enters when it is taken. So it is with an endless supply, and behind a feed that only keeps a cap. */
  readonly outside: boolean
}

export interface PlacePlan {
  readonly name: string
  readonly kind: 'buffer' | 'conveyor' | 'carriers' | 'step' | 'gate' | 'rework' | 'hand-over'
  /** Sum over the lanes; Infinity when unlimited. */
  readonly capacity: number
}

/** What a stop counts. */
export const RUNNING = 0
export const CALENDAR = 1
export const PIECES = 2
/** Nothing: it is due when the tool is to work again after too long without work. */
export const IDLENESS = 3

/** What becomes of wafers inside at a stop. */
export const RESUME = 0
export const RESTART = 1
export const LOSE = 2
export const RUN_OUT = 3
export const LOSE_SOME = 4

/** Class of a stop by SEMI E10. */
export type StopClass = 'unscheduled' | 'scheduled' | 'supply' | 'closed'

/** When a stop that is due strikes: at once; once the tool starves; once nothing is in it; at the next shift change. */
export const AT_ONCE = 0
export const WHEN_STARVED = 1
export const WHEN_EMPTY = 2
export const AT_SHIFT_CHANGE = 3
export const WHEN_PEOPLE_COME = 4

/**
 * Stops at times that are the same for all tools, whatever the tools do: by the week
 * (ticks from Monday 00:00, sorted; `ends` as many as `starts`), or at random, one
 * stream for all. Without `ends` each lasts as the stop says.
 */
export type OccasionsPlan =
  | { readonly kind: 'weekly'; readonly starts: readonly number[]; readonly ends?: readonly number[] }
  | { readonly kind: 'random'; readonly every: Law; readonly lasts: Law; readonly stream: string }

export interface StopPlan {
  readonly name: string
  readonly clock: typeof RUNNING | typeof CALENDAR | typeof PIECES | typeof IDLENESS
  /** Ticks, or pieces (wafers, loads). Not used with `occasions`, nor by IDLENESS. */
  readonly every: Law
  /** IDLENESS: longest time without work that does no harm [ticks]. */
  readonly afterIdle?: number | undefined
  /** Calendar stops: tick of the first, per tool. */
  readonly first?: readonly number[] | undefined
  /** The run begins somewhere within an interval. */
  readonly aged?: boolean | undefined
  /** It does, and others renew it or it others: then all of them are followed up to there. */
  readonly walked?: WalkedPlan | undefined
  /** Calendar stops by the clock instead of `every`. */
  readonly occasions?: OccasionsPlan | undefined
  /** Ticks. */
  readonly lasts: Law
  readonly fate: typeof RESUME | typeof RESTART | typeof LOSE | typeof RUN_OUT | typeof LOSE_SOME
  /** Wafers lost, least and most, with LOSE_SOME. */
  readonly lose: readonly [number, number]
  /** Set-up wafers after it, least and most. */
  readonly setUp: readonly [number, number]
  /** Other stops of the tool that are done along with it: their indices. */
  readonly renews: readonly number[]
  readonly kind: StopClass
  readonly call?: CallPlan | undefined
  readonly waits:
    | typeof AT_ONCE
    | typeof WHEN_STARVED
    | typeof WHEN_EMPTY
    | typeof AT_SHIFT_CHANGE
    | typeof WHEN_PEOPLE_COME
  /** The good moments of a week [ticks], sorted, with AT_SHIFT_CHANGE. */
  readonly moments: readonly number[]
  /** Longest wait for the good moment [ticks]; Infinity: until it comes. */
  readonly waitsAtMost: number
  /** Share of the wafers that pass while the stop waits which get a hidden defect. */
  readonly overdue: number
}

/** How the clock of a stop goes on a tool that never waits, on paper. */
export interface WalkedPlan {
  /** Work for each of what it counts: ticks for each piece, else 1. */
  readonly unit: number
  /** How long it is put off when it is due [ticks]. */
  readonly waits: number
  /** Calendar time for each tick of work: the line may be closed, or the tool down for all else. */
  readonly calendar: number
}

interface StationBase {
  /** Full name with the lane, unique; also the name of its random streams. */
  readonly name: string
  /** Index into `Plan.steps`, -1 for what is not a step. */
  readonly step: number
  /** Index into `Plan.places` for the wafers inside. */
  readonly place: number
  readonly inputs: readonly number[]
  /** Empty: wafers leave the line. */
  readonly outputs: readonly number[]
}

interface ToolsBase extends StationBase {
  readonly tools: number
  readonly stops: readonly StopPlan[]
  readonly outcome: OutcomePlan
  readonly treatment?: TreatmentPlan | undefined
  readonly timeLimits: readonly TimeLimitPlan[]
  /** Column of the wafer table for when wafers leave here; -1: nobody asks. */
  readonly stamp: number
  /** After standing for longer than `after` ticks. */
  readonly warmUp?: { readonly after: number; readonly lasts: Law } | undefined
}

export interface SinglePlan extends ToolsBase {
  readonly kind: 'single'
  /** Time per wafer of each tool [ticks]. */
  readonly cycle: readonly Law[]
}

export interface BeltPlan extends ToolsBase {
  readonly kind: 'belt'
  /** Least time between two wafers at the infeed, all lanes of the belt together [ticks]. */
  readonly slot: number
  readonly transit: number
  readonly halts: boolean
  /** Free places asked for before a wafer enters; Infinity: one for every wafer inside. */
  readonly keepFree: number
  /** Longest wait at the end, or longest halt without harm [ticks]; Infinity: none. */
  readonly tolerance: number
  readonly overProcessed: number
}

export interface BatchPlan extends ToolsBase {
  readonly kind: 'batch'
  /** Tubes in all; `tools` counts tubes here. Tubes of one tool stand next to each other. */
  readonly tubesPerTool: number
  readonly load: number
  readonly least: number
  readonly longestWait: number
  readonly time: Law
  readonly loading: Law
  readonly unloading: Law
  readonly serves: 'longest waiting' | 'lowest number' | 'in turn'
  readonly boats?: BoatsPlan | undefined
  /** Runs that a dummy wafer lasts of those that fill up a short load; absent: its places stay empty. */
  readonly dummyRuns?: number | undefined
  /** No load starts that would bring the wafers from here to `until` above the cap; `column` of the wafer table says which are counted. */
  readonly cap?: (CapPlan & { readonly column: number }) | undefined
}

/** Fills carriers, has them moved, and puts their wafers to the far end. */
export interface CarriersPlan extends StationBase {
  readonly kind: 'carriers'
  readonly holds: number
  readonly number: number
  /** Most carriers at the far end or on the way there. */
  readonly fullAtMost: number
  /** [ticks]; Infinity: carriers go full only. */
  readonly longestWait: number
  readonly takes: Law
  readonly call?: CallPlan
  readonly perTrip: number
  readonly returns: number
  readonly back: number
  /** After so many fillings a carrier is away; share of fillings after which it is broken and replaced. */
  readonly cleaning?: { readonly every: number; readonly lasts: Law }
  readonly breakage?: { readonly share: number; readonly replacedAfter: Law }
}

/** The people and vehicles of the line, who serve all its stations. */
export interface DeskPlan extends StationBase {
  readonly kind: 'desk'
  readonly people: PeoplePlan
}

/** Joins and splits flows: one wafer in hand, one tick each. */
export interface JunctionPlan extends StationBase {
  readonly kind: 'junction'
  readonly split: 'least full' | 'in turn'
}

/** Most wafers between the feed and leaving the line, or being taken by a station of `until`. */
export interface CapPlan {
  readonly wafers: number
  /** Index into `Plan.steps`; -1: until they leave. */
  readonly until: number
}

export interface FeedPlan extends StationBase {
  readonly kind: 'feed'
  /** Time between two carriers; without it wafers come as fast as they find a place. */
  readonly every?: Law
  readonly cap?: CapPlan
  /** Spans of the week in which nothing enters, sorted ticks. */
  readonly shut: readonly { readonly from: number; readonly to: number }[]
  readonly carrier: Law
  readonly turnsAway: boolean
  /** Wafers in all, Infinity without end. */
  readonly wafers: number
}

export type StationPlan =
  | SinglePlan
  | BeltPlan
  | BatchPlan
  | JunctionPlan
  | FeedPlan
  | CarriersPlan
  | DeskPlan
export type ToolPlan = SinglePlan | BeltPlan | BatchPlan

export interface Plan {
  readonly line: string
  /** In the order of the route: a station further on has a higher index. */
  readonly stations: readonly StationPlan[]
  readonly channels: readonly ChannelPlan[]
  readonly steps: readonly string[]
  readonly places: readonly PlacePlan[]
  /** Rework loops, each a column of the wafer table. */
  readonly loops: number
  /** Columns for caps on loads. */
  readonly caps: number
  /** Columns for the times at which wafers left steps; whether wafers can carry a hidden defect. */
  readonly stamps: number
  readonly marks: boolean
  /** What happens by the clock: only whole days, or whole weeks, are alike; undefined: any hours are. */
  readonly alike: 'day' | 'week' | undefined
  /** Efficiency of a wafer as the process makes it, fractions. */
  readonly efficiency?: {
    readonly mean: number
    readonly sd: number
    readonly lotWafers: number
    readonly lotSd: number
  }
  readonly bins?: BinsPlan
  /** Wafer area [m2]. */
  readonly area?: number
}
