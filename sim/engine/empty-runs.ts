import * as Plans from '../plan/plan.ts'
import type { Boats } from './boats.ts'
import { Loads } from './loads.ts'
import * as Phases from './phases.ts'

const { IDLENESS } = Plans
const { IDLE } = Phases

/** Runs of batch tools without wafers: of a boat that is to be coated, of a tube that has been without work for too long. */
export abstract class EmptyRuns extends Loads {
  /** Stop under which a tube is booked while a boat is coated in it. */
  private readonly coatingStop = this.extraStop('coating')
  /** Tubes that are being conditioned, each for a load that waits. */
  protected conditioning = 0

  protected boatsFor(tube: number): Boats | undefined {
    return this.boats[this.toolOf(tube)]
  }

  /** A boat of some tool goes through a tube without wafers before it takes a load. */
  protected coats(): boolean {
    for (let b = 0; b < this.boats.length; b++) if (this.boats[b].coatsNext()) return true
    return false
  }

  /** The boat that comes next goes through the tube once without wafers. */
  protected coatBoat(tube: number, time: number): void {
    this.runEmpty(tube, this.coatingStop, time, this.boats[this.toolOf(tube)].coat(time))
  }

  /** A tube that has been without work for too long. */
  protected conditionTube(tube: number, time: number): void {
    const stop = this.clocks.idle.dueAfter(time - this.finish[tube])
    this.conditioning++
    this.runEmpty(tube, stop, time, this.clocks.drawLasts(tube, stop, time))
  }

  private runEmpty(tube: number, stop: number, time: number, lasts: number): void {
    this.idle.remove(tube)
    this.heldPhase[tube] = IDLE
    this.goDown(tube, stop, time, lasts)
  }

  /** Such a run counts as work. */
  protected override recover(tube: number, time: number): void {
    super.recover(tube, time)
    const stop = this.current[tube]
    if (this.plan.stops[stop]?.clock === IDLENESS) this.conditioning--
    if (stop === this.coatingStop) this.finish[tube] = time
  }
}
