import type { Share, Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'

/** Boats of a tube tool. A load needs one from loading on until it is unloaded. */
export interface Boats {
  /** Boats of each tool. */
  readonly perTool: number
  /** After unloading, before the next load. Default 0 s. */
  readonly cooling?: Spread<Time>
  /** After so many runs a boat is away; then, with `coating`, it goes through a tube once without wafers. */
  readonly cleaning?: {
    readonly every: number
    readonly lasts: Spread<Time>
    readonly coating?: Spread<Time>
  }
  /** Share of runs after which the boat is broken, and how long until it is replaced. */
  readonly breakage?: { readonly share: Share; readonly replacedAfter: Spread<Time> }
  readonly from?: string
}

/**
 * Dummy wafers fill the places that a short load leaves. They come from a stock beside the
 * line that is never empty, and go back to it.
 */
export interface Dummies {
  /** Runs after which a dummy is worn out, and replaced. */
  readonly runs: number
  readonly from?: string
}

/** A load starts only while there is room for a full one below the cap. */
export interface LoadCap {
  /** Most wafers from being loaded here until a tool of `until` takes them, such as what that step takes within a time limit. */
  readonly wafers: number
  /** A later step, which all wafers come to. */
  readonly until: string
  readonly from?: string
}

export interface HeldUp {
  /** From the end of processing until the wafer leaves the tool. */
  readonly after: Time
  /** Efficiency, % absolute. */
  readonly loses: Share
}

/** Between leaving one step and being taken by a tool of this one. */
export interface TimeLimit {
  /** The step that the wafer left last; an earlier one of the route. */
  readonly after: string
  readonly atMost: Time
  /** scrap; pass with a loss of efficiency (% absolute); or back to a step, at most so often, then scrap (default) or pass. */
  readonly late:
    | 'scrap'
    | { readonly loses: Share }
    | { readonly to: string; readonly atMost: number; readonly then?: 'scrap' | 'pass' }
  readonly from?: string
}

/** After standing (down or closed) for longer than `after` the tool needs `lasts` more before it works. */
export interface WarmUp {
  readonly after: Time
  readonly lasts: Spread<Time>
}

/**
 * The outputs of a sorter and their boxes: an output for each bin and colour, one for the
 * low-grade cells, and one overflow for the bins that have none of their own. A cell whose
 * output has full boxes only holds its tool until one of them is swapped.
 */
export interface Boxes {
  /** The step whose tools have the outputs, behind the last test: what several testers have measured may come together there. Default: the last test itself. */
  readonly at?: string
  /** Cells in a full one. */
  readonly holds: number
  /** Boxes at each output, of which one is filled while full ones are swapped. Default 2. */
  readonly perOutput?: number
  /** First and last bin that have outputs of their own; all others share the overflow. Default: every bin has. */
  readonly ownBins?: readonly [number, number]
  /** A full box is swapped for an empty one beside the running tool, with `skill` by people, who are called when it is full. */
  readonly swap: {
    readonly lasts: Spread<Time>
    readonly skill?: string
    readonly people?: number
    readonly priority?: number
  }
  readonly from?: string
}
