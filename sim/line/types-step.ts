import type { Length, Share, Speed, Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'
import type { Boats, Dummies, HeldUp, LoadCap, TimeLimit, WarmUp } from './types-more.ts'
import type { ClockTime } from './types-people.ts'

/** Exactly one of `cycle` (one wafer at a time), `belt` and `batch`. */
export interface Step {
  readonly step: string
  /** Equal tools side by side. Default 1. */
  readonly tools?: number
  /** Single-wafer tool: time per wafer. */
  readonly cycle?: Spread<Time>
  /** Single-wafer tool: own cycle time per tool instead of `cycle`, one entry per tool. */
  readonly cycles?: readonly Spread<Time>[]
  readonly belt?: Belt
  readonly batch?: Batch
  /** Broken wafers, as a share of wafers processed. */
  readonly breakage?: Share | Breakage
  /** Wafers scrapped for quality after processing. */
  readonly reject?: Share
  readonly rework?: Rework
  readonly test?: Test
  readonly stops?: readonly Stop[]
  readonly effect?: Effect
  /** Ways to run the step; `recipe` picks one, whose entries replace those of the step. */
  readonly recipes?: Readonly<Record<string, Recipe>>
  readonly recipe?: string
  /** Share of wafers that leave with a defect which only a test finds. */
  readonly defects?: Share
  readonly drift?: Drift
  /** Wafers that must wait in the tool after processing lose efficiency; on belts those that stand with it. */
  readonly heldUp?: HeldUp
  /** Checked when a tool of this step takes the wafer. */
  readonly timeLimits?: readonly TimeLimit[]
  /** Time to be ready again after standing. */
  readonly warmUp?: WarmUp
  readonly from?: string
}

/** What the step does to the efficiency of each wafer, % absolute. */
export interface Effect {
  /** Mean change; negative: a loss. */
  readonly shift?: Share
  /** Spread from wafer to wafer. */
  readonly sd?: Share
}

/** What wears from one stop of this name to the next; both grow evenly from nothing. */
export interface Drift {
  readonly until: string
  /** Efficiency that wafers lose at its end, % absolute. */
  readonly loses?: Share
  /** Share of wafers with a hidden defect at its end. */
  readonly defects?: Share
}

/** A way to run a step: what it changes. */
export interface Recipe {
  readonly cycle?: Spread<Time>
  readonly belt?: Partial<Belt>
  readonly batch?: Partial<Batch>
  readonly effect?: Effect
  readonly reject?: Share
  readonly breakage?: Share | Breakage
  readonly defects?: Share
  readonly from?: string
}

export interface Belt {
  /** Least time between two wafers of one lane. Either `spacing` and `transit`, or `length`, `speed` and `pitch`. */
  readonly spacing?: Time
  readonly transit?: Time
  readonly length?: Length
  readonly speed?: Speed
  readonly pitch?: Length
  /** Lanes side by side on one belt. Default 1. */
  readonly lanes?: number
  /**
   * `run out` (default): wafers enter only while what follows has places for all that are inside;
   * `stop`: the belt halts while the first wafer finds no place.
   */
  readonly whenFull?: 'run out' | 'stop'
  /** run out: keep only this many places free instead of one for every wafer inside. */
  readonly keepFree?: number
  /** run out: a wafer at the end waits this long for a place, then is scrapped. stop: a halt longer than this over-processes the wafers inside. Default: no limit. */
  readonly tolerance?: Time
  /** stop: share of the wafers inside that is scrapped when over-processed. Default 100 %. */
  readonly overProcessed?: Share
}

export interface Batch {
  /** Wafers of a full load. */
  readonly load: number
  /** A load may start with this many. Default: full loads only. */
  readonly least?: number
  /** How long the least load waits for a full one. Default with `least`: not at all. */
  readonly longestWait?: Time
  /** Process time of a load. */
  readonly time: Spread<Time>
  /** Tubes (chambers, tanks) per tool, sharing the tool's loader. Default 1. */
  readonly tubes?: number
  /** Time the loader needs to bring a load in, or out. Default 0 s. */
  readonly loading?: Spread<Time>
  readonly unloading?: Spread<Time>
  /** Which tube the loader serves first when several wait. Default the one that waits longest. */
  readonly loaderServes?: 'longest waiting' | 'lowest number' | 'in turn'
  /** Carriers of the loads. Default: never short. */
  readonly boats?: Boats
  /** A short load is filled up with dummy wafers. Default: its places stay empty. */
  readonly dummies?: Dummies
  /** No load starts that a step further on could not take in time. Default: loads start whatever follows. */
  readonly cap?: LoadCap
}

export interface Breakage {
  readonly share: Share
  /** The tool must be cleared of shards. */
  readonly clearing?: {
    readonly share?: Share
    readonly lasts: Spread<Time>
    /** People it needs, as a stop does. */
    readonly skill?: string
    readonly people?: number
    readonly priority?: number
    readonly from?: string
  }
  readonly from?: string
}

export interface Rework {
  readonly share: Share
  /** Step at which the wafer goes in again: an earlier one, or this one; a single-wafer tool then does the wafer again at once. */
  readonly to: string
  /** Times one wafer may be sent back from here. */
  readonly atMost: number
  /** What becomes of a wafer that would have to go back once more. Default reject. */
  readonly then?: 'reject' | 'pass'
  readonly from?: string
}

/** The tester measures: own efficiency of the wafer plus noise of the tool. */
export interface Test {
  /** Standard deviation of the tool, % absolute. */
  readonly noise?: Share
  /** Wafers measured below are rejected. */
  readonly rejectBelow?: Share
  /** Wafers measured below are reworked, within the limits of `rework`. */
  readonly reworkBelow?: Share
  /** Share of the hidden defects of earlier steps that it finds, and rejects. Default 100 %. */
  readonly finds?: Share
  /** Share of good cells that go to the low-grade box for their looks. */
  readonly downgrades?: Share
}

/**
 * When stops are due for the first time, spread evenly over a span: that of tool i of n at
 * from + (i - 1) (to - from) / n. Counted are all tools of the step, those of equal lanes
 * together; each tube of a batch tool counts as a tool.
 */
export interface FirstSpan {
  readonly from: Time
  readonly to: Time
}

export interface Stop {
  readonly stop: string
  /** What `every` counts. Default running time: a starved tool does not wear. */
  readonly counts?: 'running time' | 'calendar time' | 'wafers' | 'loads'
  /** From the end of one such stop to the next: a time, or a number of wafers or loads. */
  readonly every?: Spread<Time> | Spread<number>
  /** Instead of `every`: when it is due, by the clock. */
  readonly at?: readonly ClockTime[]
  /**
   * Instead of `every`: it is due when the tool is to work again after more than this without work: starved,
   * blocked, down or closed. Of several such stops the one with the longest time that has passed is done.
   */
  readonly afterIdle?: Time
  /**
   * When it is due for the first time. Default: after a whole interval, as if all had been done anew when the run begins.
   * `'at random'`: the tool has long been at work, and some of the interval is over. With `every` as calendar time also
   * a time; one for each tool, or a span, staggers them.
   */
  readonly first?: 'at random' | Time | readonly Time[] | FirstSpan
  readonly lasts: Spread<Time>
  /** Wafers inside. Default: resume; for belts run out. */
  readonly inside?:
    | 'resume'
    | 'restart'
    | 'lose'
    | 'run out'
    | { readonly lose: number | readonly [number, number] }
  /**
   * Stops of this step that are done along with it: when it is over their clocks start anew, and what wears until one
   * of them is as new. So planned work prevents failures. Nothing else is renewed with them. Default: none but itself.
   */
  readonly renews?: readonly string[]
  /** So many wafers, or between the least and the most, that the tool finishes first after it are set-up wafers: lost here. */
  readonly setUpWafers?: number | readonly [number, number]
  /** Class by SEMI E10; `supply` (a change of consumables) counts as scheduled downtime. Default unscheduled. */
  readonly kind?: 'unscheduled' | 'scheduled' | 'supply'
  /** Skill of the people it needs. Default: nobody. */
  readonly skill?: string
  /** People it needs at the same time. Default 1. */
  readonly people?: number
  /** When people are short, the higher number comes first. Default 0. */
  readonly priority?: number
  /** Once due it waits for a good moment, while the tool works on; after `atMost` it is done all the same. */
  readonly waits?: {
    /**
     * `'people come'`: who is needed is called as soon as it is due, and the tool works on until they are there. Work that
     * they do while it is down for something else costs nothing.
     */
    readonly until: 'starved' | 'load ends' | 'shift change' | 'people come'
    readonly atMost: Time
  }
  /** Share of the wafers processed between the need and the stop that have a hidden defect. */
  readonly overdue?: Share
  readonly from?: string
}
