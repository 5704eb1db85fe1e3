import type { ToolPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import { LOST_STAY_SUM, type Meter } from './meter.ts'
import { Station } from './station.ts'
import type { Wafers } from './wafers.ts'

/** A station whose wafers go on, go back, leave the line as good cells or are lost. */
export abstract class PassingStation extends Station {
  /** Good wafers leave the line here. */
  readonly exit: boolean
  protected readonly input: Channel
  /** Where wafers go on; not used at the exit. */
  protected readonly output: Channel
  protected readonly reworkChannel: Channel | undefined

  constructor(
    readonly plan: ToolPlan,
    position: number,
    inputs: readonly Channel[],
    outputs: readonly Channel[],
    meter: Meter,
    wafers: Wafers,
  ) {
    super(position, plan.name, inputs, outputs, meter, wafers)
    this.exit = plan.outputs.length === 0
    this.input = inputs[0]
    this.output = outputs[0]
    this.reworkChannel = outputs[plan.outputs.length]
  }

  /** A wafer leaves the line as a loss. */
  removeWafer(wafer: number, time: number): void {
    this.meter.counter[LOST_STAY_SUM] += time - this.wafers.birth[wafer]
    this.countGone(time)
    this.wafers.release(wafer)
  }

  /** Before this tick no wafer goes back: the promise to the junction at the other end of a rework loop. */
  protected earliestBack = 0

  override putsNotBefore(output: Channel): number {
    return output === this.reworkChannel ? this.earliestBack : this.earliestPut
  }

  /** A wafer goes to the rework channel, the last output. */
  sendBack(wafer: number, time: number): void {
    this.reworkChannel?.put(wafer, time)
    this.countFlow(this.inputs.length + this.outputs.length - 1, time)
  }

  /** Hands a wafer to the next station; the place has been found at `time`. */
  protected handOver(wafer: number, time: number): void {
    if (this.output.bounded) this.output.useRoom(time)
    this.output.put(wafer, time)
    this.countFlow(this.inputs.length, time)
  }

  /** Hands a good wafer out of the line. */
  protected leave(wafer: number, time: number): void {
    const { birth, efficiency } = this.wafers
    this.meter.leave(time - birth[wafer], efficiency.length > 0 ? efficiency[wafer] : 0)
    this.countGone(time)
    this.wafers.release(wafer)
  }

  private countGone(time: number): void {
    this.countFlow(this.inputs.length + this.outputs.length, time)
  }
}
