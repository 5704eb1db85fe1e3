import type { Area, Length, Rate, Share, Speed, Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'

/**
 * The line as a person writes it. Plain data: no functions, no classes, so that a
 * scenario can be hashed, stored and sent to a worker.
 *
 * Every object may carry `from`: where its figures come from (a source, "common
 * practice, no source", "invented").
 */
export interface Line {
  /** Name of the line, shown on every report. */
  readonly line: string
  /** Free text kept with the results (run.json), one sentence each. */
  readonly notes?: readonly string[]
  readonly from?: string
  readonly wafer?: WaferKind
  /** What the line is meant to make. */
  readonly target?: Rate
  /** Default: as fast as the first step takes them. */
  readonly feed?: Feed
  /** Top to bottom in the order in which a wafer travels. */
  readonly route: Route
  /** Efficiency bins into which the last test sorts. */
  readonly bins?: Bins
  /** Defaults of a run; the command line overrides them. */
  readonly run?: RunDefaults
  /** Named changes to the line above. */
  readonly variants?: Readonly<Record<string, Variant>>
}

export interface WaferKind {
  readonly area: Area
  /** Cell efficiency that the process gives, mean and standard deviation in % absolute. */
  readonly efficiency: {
    readonly mean: Share
    readonly sd?: Share
    readonly lot?: IngotLot
    readonly from?: string
  }
  readonly from?: string
}

/** Wafers of one ingot lot share a shift in efficiency. */
export interface IngotLot {
  readonly wafers: number
  readonly sd: Share
}

export type Feed =
  | 'as fast as taken'
  | {
      /** Time between two arrivals. Exactly one of `every` and `rate`. */
      readonly every?: Spread<Time>
      /** Wafers an hour, in evenly spaced carriers. */
      readonly rate?: Rate
      /** Wafers that arrive together (a carrier, a stack). Default 1. */
      readonly carrier?: Spread<number>
      /** `wait` (default): the carrier waits at the gate; `turn away`: wafers that find no place are lost. */
      readonly whenFull?: 'wait' | 'turn away'
      /** Wafers in all; afterwards nothing arrives. */
      readonly wafers?: number
      readonly from?: string
    }

export type Route = readonly Item[]
export type Item = Step | Buffer | Conveyor | Group

export interface Buffer {
  readonly buffer: string
  /** Wafers it holds, the places inside tools not counted. 0 hands over directly. */
  readonly capacity: number | 'unlimited'
  /** Default first in, first out. */
  readonly order?: 'first in, first out' | 'last in, first out'
  /** A wafer stays at least this long. */
  readonly leastDwell?: Time
  readonly from?: string
}

export interface Conveyor {
  readonly conveyor: string
  /** Time from one end to the other. Wafers close up at the far end when they must wait. */
  readonly transit: Time
  readonly capacity: number
  readonly from?: string
}

/** Parallel lanes, each a route of its own. They split after what stands before and join before what follows. */
export interface Group {
  readonly group: string
  /** Which lane gets the next wafer. Default least full. */
  readonly split?: 'least full' | 'in turn'
  /** Names of equal lanes, whose route is `each`; or one route per name. */
  readonly lanes: readonly string[] | Readonly<Record<string, Route>>
  readonly each?: Route
  readonly from?: string
}

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
}

export interface Breakage {
  readonly share: Share
  /** The tool must be cleared of shards. */
  readonly clearing?: { readonly share?: Share; readonly lasts: Spread<Time>; readonly from?: string }
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
}

export interface Bins {
  /** Lower edge of the lowest bin. Cells below it go to the low-grade box. */
  readonly first: Share
  readonly width: Share
  readonly count: number
  readonly from?: string
}

export interface Stop {
  readonly stop: string
  /** What `every` counts. Default running time: a starved tool does not wear. */
  readonly counts?: 'running time' | 'calendar time' | 'wafers' | 'loads'
  /** From the end of one such stop to the next: a time, or a number of wafers or loads. */
  readonly every: Spread<Time> | Spread<number>
  readonly lasts: Spread<Time>
  /** Wafers inside. Default: resume; for belts run out. */
  readonly inside?:
    | 'resume'
    | 'restart'
    | 'lose'
    | 'run out'
    | { readonly lose: number | readonly [number, number] }
  /** Class by SEMI E10. Default unscheduled. */
  readonly kind?: 'unscheduled' | 'scheduled'
  readonly from?: string
}

export interface RunDefaults {
  readonly days?: number
  readonly replications?: number
  readonly seed?: string
}

/**
 * What differs, by the name of the item: `{ "front print": { tools: 4 } }`. Values
 * replace those of the item, key by key; so they do within `belt` and `batch`, and
 * within stops, which are named in an object of their own:
 * `{ stops: { "screen burst": { lasts: "5 min" } } }`. `null` takes a key or a stop
 * away. The key `line` changes the line itself (feed, wafer, bins, target).
 */
export type Variant = Readonly<Record<string, Readonly<Record<string, unknown>>>>
