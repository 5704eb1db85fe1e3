import { scrapsLate } from '../plan/loses.ts'
import { outputsOf } from '../plan/outputs.ts'
import type { ToolPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import type { Departures } from './departures.ts'
import { LATE_BACK, LATE_COLUMNS, LATE_COUNT, LATE_SCRAPPED, LOST, LOST_STAY_SUM } from './meter.ts'
import { type Seat, Station } from './station.ts'

/** A station whose wafers go on, go back, leave the line as good cells or are lost. */
export abstract class PassingStation extends Station {
  /** Good wafers leave the line here. */
  readonly exit: boolean
  protected readonly input: Channel
  /** Where wafers go on; not used at the exit. */
  protected readonly output: Channel
  protected readonly reworkChannel: Channel | undefined
  /** Output of late wafers that go back, per time limit. */
  private readonly lateOutput: readonly number[]
  /** Column of the wafer table for when wafers leave here; -1: no time limit asks. */
  readonly stamp: number
  /** What the cap on wafers must know: those that leave here (and those taken, where it counts no further). */
  private leaver = -1
  protected takenDepart = false
  private leaveWhenTaken = false
  /** The departures of all stations. */
  protected counts: Departures | undefined

  constructor(
    readonly plan: ToolPlan,
    seat: Seat,
  ) {
    super(plan.name, seat)
    const { inputs, outputs } = seat
    this.exit = plan.outputs.length === 0
    this.input = inputs[0]
    this.output = outputs[0]
    const channels = outputsOf(plan)
    const rework = plan.outcome.rework?.channel ?? -1
    this.reworkChannel = rework < 0 ? undefined : outputs[plan.outputs.length]
    this.lateOutput = plan.timeLimits.map(limit => channels.indexOf(limit.channel))
    this.stamp = plan.stamp
  }

  // ---- time limits -------------------------------------------------------------

  /** A tool is about to take the wafer. @returns false when it came too late and has gone */
  protected admits(wafer: number, time: number): boolean {
    const limits = this.plan.timeLimits
    for (let l = 0; l < limits.length; l++) {
      const limit = limits[l]
      if (time - this.wafers.stamps[limit.stamp][wafer] <= limit.atMost) continue
      this.meter.late[l * LATE_COLUMNS + LATE_COUNT]++
      if (limit.late === 'pass') this.loseEfficiency(wafer, limit.loses)
      else if (limit.late === 'scrap') return this.scrapLate(l, wafer, time)
      else if (!this.goesBack(l, wafer, time)) return false
    }
    return true
  }

  /** Whether the wafer would not be admitted. */
  protected tooLate(wafer: number, time: number): boolean {
    const { passes, loops, stamps } = this.wafers
    return this.plan.timeLimits.some(limit => {
      if (time - stamps[limit.stamp][wafer] <= limit.atMost || limit.late === 'pass') return false
      return limit.late === 'scrap' || passes[wafer * loops + limit.loop] < limit.back || limit.thenScrap
    })
  }

  private loseEfficiency(wafer: number, loses: number): void {
    if (this.wafers.efficiency.length > 0) this.wafers.efficiency[wafer] -= loses
  }

  private scrapLate(l: number, wafer: number, time: number): false {
    this.meter.late[l * LATE_COLUMNS + LATE_SCRAPPED]++
    this.meter.counter[LOST]++
    this.removeWafer(wafer, time)
    return false
  }

  /** Sends a late wafer back, unless it has been back as often as it may. @returns whether it is taken all the same */
  private goesBack(l: number, wafer: number, time: number): boolean {
    const limit = this.plan.timeLimits[l]
    const { passes, loops } = this.wafers
    const pass = wafer * loops + limit.loop
    if (passes[pass] >= limit.back) return limit.thenScrap ? this.scrapLate(l, wafer, time) : true
    passes[pass]++
    this.meter.late[l * LATE_COLUMNS + LATE_BACK]++
    const output = this.lateOutput[l]
    this.outputs[output].put(wafer, time)
    this.countFlow(this.inputs.length + output, time)
    return false
  }

  /** A wafer leaves the line as a loss. */
  removeWafer(wafer: number, time: number): void {
    this.meter.counter[LOST_STAY_SUM] += time - this.wafers.birth[wafer]
    this.countGone(wafer, time)
    this.wafers.release(wafer)
  }

  /** Before this tick no wafer goes back: the promise to the junction at the other end of a rework loop. */
  protected earliestBack = 0

  override putsNotBefore(output: Channel): number {
    if (output === this.output && !this.exit) return this.earliestPut
    // Late wafers go back when they would be taken.
    return output === this.reworkChannel ? this.earliestBack : this.earliestTake
  }

  /** A wafer goes to the rework channel, the last output. */
  sendBack(wafer: number, time: number): void {
    this.reworkChannel?.put(wafer, time)
    this.countFlow(this.inputs.length + this.plan.outputs.length, time)
  }

  /** Hands a wafer to the next station; the place has been found at `time`. */
  protected handOver(wafer: number, time: number): void {
    if (this.stamp >= 0) this.wafers.stamps[this.stamp][wafer] = time
    if (this.output.bounded) this.output.useRoom(time)
    this.output.put(wafer, time)
    this.countFlow(this.inputs.length, time)
  }

  /** Hands a good wafer out of the line. */
  protected leave(wafer: number, time: number): void {
    const { birth, efficiency } = this.wafers
    this.meter.leave(time - birth[wafer], efficiency.length > 0 ? efficiency[wafer] : 0)
    this.countGone(wafer, time)
    this.wafers.release(wafer)
  }

  private countGone(wafer: number, time: number): void {
    this.countFlow(this.inputs.length + this.outputs.length, time)
    this.depart(wafer, time)
  }

  /**
   * @param number of this station among those that count
   * @param until step that ends the count when it takes a wafer; -1: none
   */
  countDepartures(departures: Departures, number: number, until: number): void {
    this.leaver = number
    this.takenDepart = this.plan.step === until
    this.leaveWhenTaken = this.takenDepart || scrapsLate(this.plan)
    this.counts = departures
  }

  /** Before this tick no wafer leaves what the cap counts that is not recorded. */
  departsNotBefore(): number {
    const inside = this.losesNotBefore()
    return this.leaveWhenTaken ? Math.min(this.earliestTake, inside) : inside
  }

  /** Before this tick no wafer leaves the line from within the tools that is not recorded. */
  protected abstract losesNotBefore(): number

  /** A tool takes a wafer. */
  protected countTaken(wafer: number, time: number): void {
    this.countFlow(0, time)
    if (this.takenDepart) this.depart(wafer, time)
  }

  /** The cap counts the wafer no longer; once only, since a wafer may come back from beyond the step where the count ends. */
  private depart(wafer: number, time: number): void {
    if (this.leaver < 0) return
    const { uncounted } = this.wafers
    if (uncounted.length > 0) {
      if (uncounted[wafer] === 1) return
      uncounted[wafer] = 1
    }
    this.counts?.add(this.leaver, time)
  }
}
