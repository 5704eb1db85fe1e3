import type { JunctionPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import type { Meter } from './meter.ts'
import { START } from './start.ts'
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
  /** Places that are free by the tick of the last hand-over, and wafers in the others. */
  readonly free: Int32Array
  readonly fill: Float64Array
  /** Tick from which there is one more; Infinity: none is recorded. */
  readonly nextRoom: Float64Array
  /** Wafers that waited before the loop. */
  readonly begun: Float64Array
  /** Places that are free in all lanes, the tick from which there is one more, and that before which all is known (NaN: to be found). */
  places = 0
  soonest = START
  known = Number.NaN

  constructor(lanes: number) {
    this.free = new Int32Array(lanes)
    this.fill = new Float64Array(lanes)
    this.nextRoom = new Float64Array(lanes)
    this.begun = new Float64Array(lanes)
  }

  /** A wafer is put into a lane: whether all takes of it are known may have changed. */
  use(lane: number): void {
    this.free[lane]--
    this.fill[lane]++
    this.places--
    if (this.nextRoom[lane] === Infinity) this.known = Number.NaN
  }
}
