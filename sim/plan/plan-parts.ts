import type { Law } from '../chance/law.ts'

/** Parts of the plan that several kinds of stations share, or that are apart from wafers. */

export interface PeoplePlan {
  readonly skills: readonly string[]
  readonly crews: readonly CrewPlan[]
  /** Names of the shifts, and of each span of the week its shift (index; -1: closed), from tick on. */
  readonly shifts: readonly string[]
  readonly week: readonly { readonly from: number; readonly shift: number }[]
}

export interface CrewPlan {
  readonly name: string
  readonly kind: 'crew' | 'fleet'
  /** Skills by index. */
  readonly skills: readonly number[]
  readonly reach: Law
  /** Heads from each tick of the week on, sorted, the first at 0. */
  readonly heads: readonly { readonly from: number; readonly heads: number }[]
}

/** People (or vehicles) that a job needs. */
export interface CallPlan {
  /** Index into `PeoplePlan.skills`. */
  readonly skill: number
  readonly people: number
  /** The higher number comes first. */
  readonly priority: number
}

/** What the step does to every wafer that leaves it, besides the work itself. Efficiencies as fractions. */
export interface TreatmentPlan {
  readonly shift: number
  readonly sd: number
  /** Share that gets a hidden defect. */
  readonly defects: number
  /** What grows evenly from one stop to the next, over so many wafers of each tool. */
  readonly drift?:
    | {
        readonly stop: number
        readonly wafers: readonly number[]
        readonly loses: number
        readonly defects: number
      }
    | undefined
  /** Held in the tool for longer than `after` ticks a wafer loses so much. */
  readonly heldUp?: { readonly after: number; readonly loses: number } | undefined
}

/** Between leaving one step and being taken here. */
export interface TimeLimitPlan {
  /** Step that it counts from, index into `Plan.steps`. */
  readonly after: number
  /** Column of the wafer table that holds when the wafer left that step. */
  readonly stamp: number
  /** [ticks] */
  readonly atMost: number
  /** Lost, passed on with a loss of efficiency, or sent back. */
  readonly late: 'scrap' | 'pass' | 'back'
  readonly loses: number
  /** Sent back: channel, column of the wafer table that counts the times, how often, and what then. */
  readonly channel: number
  readonly loop: number
  readonly back: number
  readonly thenScrap: boolean
}

export interface BoatsPlan {
  readonly perTool: number
  readonly cooling: Law
  readonly cleaning?: { readonly every: number; readonly lasts: Law; readonly coating?: Law }
  readonly breakage?: { readonly share: number; readonly replacedAfter: Law }
}

/** The outputs of a sorter and their boxes. */
export interface BoxesPlan {
  readonly holds: number
  readonly perOutput: number
  readonly outputs: number
  /** Output of each class of cells, see BinsPlan. */
  readonly outputOf: readonly number[]
  readonly lasts: Law
  readonly call?: CallPlan
}

/**
 * Efficiency bins: lower edge of the first, width (fractions), number; and colours. What a
 * cell is sorted into is one number, its class: 0 below the lowest bin, else
 * 1 + (bin - 1) x colours + colour.
 */
export interface BinsPlan {
  readonly first: number
  readonly width: number
  readonly count: number
  /** Names, one without a name when colour is not sorted; and of each the share of cells that have it or one before it. */
  readonly colours: readonly string[]
  readonly upToColour: readonly number[]
}

/** What a tester looks at: efficiencies as fractions. */
export interface TestPlan {
  readonly noise: number
  readonly rejectBelow: number
  readonly reworkBelow: number
  /** Share of hidden defects found; share of good cells put into the low-grade box for their looks. */
  readonly finds: number
  readonly downgrades: number
  /** Set for the last test of the line: it sorts. */
  readonly bins?: BinsPlan
}

/** What can happen to a wafer when its service ends. Shares as fractions. */
export interface OutcomePlan {
  readonly breakage: number
  /** Share of breakages that need clearing, and how long that takes [ticks]. */
  readonly clearing?: { readonly share: number; readonly lasts: Law; readonly call?: CallPlan } | undefined
  readonly reject: number
  readonly rework?:
    | {
        readonly share: number
        /** Channel back; -1: the tool does the wafer again at once. */
        readonly channel: number
        /** Column of the wafer table that counts the passes. */
        readonly loop: number
        readonly atMost: number
        readonly thenReject: boolean
      }
    | undefined
  readonly test?: TestPlan | undefined
  /** Outputs into which it puts what the last test, this step or one before it, has sorted. */
  readonly boxes?: BoxesPlan | undefined
}
