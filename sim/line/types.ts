import type { Area, Rate, Share, Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'
import type { Money, Sizing } from './types-money.ts'
import type { Boxes } from './types-more.ts'
import type { Calendar, Crew, Fleet, SiteEvent } from './types-people.ts'
import type { Step } from './types-step.ts'

export type * from './types-money.ts'
export type * from './types-more.ts'
export type * from './types-people.ts'
export type * from './types-step.ts'

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
  /** Shifts; outside them the line is closed. Default: always open. */
  readonly calendar?: Calendar
  /** People, by the name of their crew. */
  readonly crews?: Readonly<Record<string, Crew>>
  /** Vehicles that move carriers, by the name of the fleet. */
  readonly fleets?: Readonly<Record<string, Fleet>>
  /** What stops many tools at the same time: power, water, exhaust, alarms. */
  readonly events?: readonly SiteEvent[]
  /** Cap on wafers in the line: at the cap, one enters for each that leaves. */
  readonly cap?: Cap
  /** Top to bottom in the order in which a wafer travels. */
  readonly route: Route
  /** Efficiency bins into which the last test sorts. */
  readonly bins?: Bins
  /** Defaults of a run; the command line overrides them. */
  readonly run?: RunDefaults
  /** What the line earns and costs. */
  readonly money?: Money
  /** What may be changed to reach the target, and within which limits. */
  readonly sizing?: Sizing
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
export type Item = Step | Buffer | Conveyor | Carriers | Group

export interface Cap {
  /** Most wafers from entering the line to leaving it. */
  readonly wafers: number
  /** Counted until a tool of this step takes the wafer, instead of until it leaves: as much starts as that step takes. */
  readonly until?: string
  readonly from?: string
}

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

/**
 * Carriers (cassettes, stacks) that are filled behind what stands before, moved, and
 * emptied by what follows. Wafers wait until a carrier is full, or for `longestWait`.
 */
export interface Carriers {
  readonly carriers: string
  /** Wafers in a full one. */
  readonly holds: number
  /** Carriers in all: being filled, waiting, on the way, full, and on the way back. */
  readonly number: number
  /** Most at the far end (the one being emptied included) or on the way there. Default: no limit but `number`. */
  readonly fullAtMost?: number
  /** From the first wafer on: then the carrier goes as it is. Default: it goes full only. */
  readonly longestWait?: Time
  /** The way to the far end; with `by` a person of that skill, or a vehicle of that fleet, goes along, with up to `perTrip` carriers (default 1). */
  readonly moved: {
    readonly takes: Spread<Time>
    readonly by?: string
    readonly perTrip?: number
    /** How long who goes along is away after that. Default 0 s. */
    readonly returns?: Time
    /** Who comes first when people or vehicles are short: the higher number. Default 0. */
    readonly priority?: number
  }
  /** The way back of an empty one, which needs nobody. Default 0 s. */
  readonly back?: Time
  /** After so many fillings an empty carrier is away for so long, besides its way back. */
  readonly cleaning?: { readonly every: number; readonly lasts: Spread<Time> }
  /** Share of fillings after which the carrier is broken, and how long until it is repaired or replaced, besides the way back. */
  readonly breakage?: { readonly share: Share; readonly replacedAfter: Spread<Time> }
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

export interface Bins {
  /** Lower edge of the lowest bin. Cells below it go to the low-grade box. */
  readonly first: Share
  readonly width: Share
  readonly count: number
  /** Colour classes by name: the share of cells in each, 100 % in all. Default: colour is not sorted. */
  readonly colours?: Readonly<Record<string, Share>>
  /** The boxes that cells fall into. Default: they are never full. */
  readonly boxes?: Boxes
  readonly from?: string
}

export interface RunDefaults {
  readonly days?: number
  readonly replications?: number
  readonly seed?: string
}

/**
 * What differs, by the name of the item: `{ "front print": { tools: 4 } }`. Values
 * replace those of the item, key by key; so they do within `belt`, `batch` and its
 * `boats`, and `moved`, and within stops, which are named in an object of their own:
 * `{ stops: { "screen burst": { lasts: "5 min" } } }`. `null` takes a key or a stop
 * away. The key `line` changes the line itself (feed, wafer, bins, target, calendar,
 * crews, fleets, events, cap); crews, fleets and events are named as stops are:
 * `{ line: { crews: { operators: { heads: 4 } } } }`.
 */
export type Variant = Readonly<Record<string, Readonly<Record<string, unknown>>>>
