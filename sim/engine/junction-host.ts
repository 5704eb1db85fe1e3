import type { JunctionPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import type { Meter } from './meter.ts'
import type { Wafers } from './wafers.ts'

/** Of `JunctionStation.holds`: no wafer. */
export const EMPTY = -1

/** What the fast loops read and write of a junction. */
export interface JunctionHost {
  now: number
  holds: number
  turn: number
  sent: number
  readonly lastSent: Float64Array
  /** For `split`. */
  readonly lanes: Lanes
  readonly plan: JunctionPlan
  readonly inputs: readonly Channel[]
  readonly outputs: readonly Channel[]
  readonly meter: Meter
  readonly wafers: Wafers
  positionOf(input: number): number
  /** Has the station behind act, to make room. @returns whether it has */
  press(): boolean
  /** Has the supplier at an input act. @returns whether it has */
  draw(input: number): boolean
}

/** What `split` keeps of each lane while it runs. */
export class Lanes {
  /** Places that are free by the tick of the last hand-over. */
  readonly free: Int32Array
  /** Tick from which there is one more; Infinity: none is recorded. */
  readonly nextRoom: Float64Array

  constructor(lanes: number) {
    this.free = new Int32Array(lanes)
    this.nextRoom = new Float64Array(lanes)
  }
}
