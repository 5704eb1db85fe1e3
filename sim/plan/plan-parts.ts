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
  /** What grows evenly from one stop to the next, over so many wafers. */
  readonly drift?: {
    readonly stop: number
    readonly wafers: number
    readonly loses: number
    readonly defects: number
  }
  /** Held in the tool for longer than `after` ticks a wafer loses so much. */
  readonly heldUp?: { readonly after: number; readonly loses: number }
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
