import type { Law } from '../chance/law.ts'

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
}

export interface PlacePlan {
  readonly name: string
  readonly kind: 'buffer' | 'conveyor' | 'step' | 'gate' | 'rework' | 'hand-over'
  /** Sum over the lanes; Infinity when unlimited. */
  readonly capacity: number
}

/** What a stop counts. */
export const RUNNING = 0
export const CALENDAR = 1
export const PIECES = 2

/** What becomes of wafers inside at a stop. */
export const RESUME = 0
export const RESTART = 1
export const LOSE = 2
export const RUN_OUT = 3
export const LOSE_SOME = 4

export interface StopPlan {
  readonly name: string
  readonly clock: typeof RUNNING | typeof CALENDAR | typeof PIECES
  /** Ticks, or pieces (wafers, loads). */
  readonly every: Law
  /** Ticks. */
  readonly lasts: Law
  readonly fate: typeof RESUME | typeof RESTART | typeof LOSE | typeof RUN_OUT | typeof LOSE_SOME
  /** Wafers lost, least and most, with LOSE_SOME. */
  readonly lose: readonly [number, number]
  readonly scheduled: boolean
}

/** Efficiency bins: lower edge of the first, width (fractions), number. */
export interface BinsPlan {
  readonly first: number
  readonly width: number
  readonly count: number
}

/** What can happen to a wafer when its service ends. Shares as fractions. */
export interface OutcomePlan {
  readonly breakage: number
  /** Share of breakages that need clearing, and how long that takes [ticks]. */
  readonly clearing?: { readonly share: number; readonly lasts: Law }
  readonly reject: number
  readonly rework?: {
    readonly share: number
    /** Channel back; -1: the tool does the wafer again at once. */
    readonly channel: number
    /** Column of the wafer table that counts the passes. */
    readonly loop: number
    readonly atMost: number
    readonly thenReject: boolean
  }
  readonly test?: {
    readonly noise: number
    readonly rejectBelow: number
    readonly reworkBelow: number
    /** Set for the last test of the line: it sorts. */
    readonly bins?: BinsPlan
  }
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
}

/** Joins and splits flows: one wafer in hand, one tick each. */
export interface JunctionPlan extends StationBase {
  readonly kind: 'junction'
  readonly split: 'least full' | 'in turn'
}

export interface FeedPlan extends StationBase {
  readonly kind: 'feed'
  readonly every: Law
  readonly carrier: Law
  readonly turnsAway: boolean
  /** Wafers in all, Infinity without end. */
  readonly wafers: number
}

export type StationPlan = SinglePlan | BeltPlan | BatchPlan | JunctionPlan | FeedPlan
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
