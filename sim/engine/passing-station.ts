import { Ahead } from '../chance/ahead.ts'
import { openStream } from '../chance/streams.ts'
import { scrapsLate } from '../plan/loses.ts'
import { outputsOf } from '../plan/outputs.ts'
import type { ToolPlan } from '../plan/plan.ts'
import type { Channel } from './channel.ts'
import type { Departures } from './departures.ts'
import * as Books from './meter.ts'
import { START } from './start.ts'
import { type Seat, Station } from './station.ts'

const { LATE_BACK, LATE_COLUMNS, LATE_COUNT, LATE_SCRAPPED, LOST, LOST_STAY_SUM } = Books

/** Departures of one cap. */
interface Count {
  readonly departures: Departures
  /** Number of this station among those that count. */
  readonly number: number
  /** A wafer that is taken here has left. */
  readonly whenTaken: boolean
  /** So has one that is sent back, for rework or by a time limit, to before the station that counts. */
  readonly whenReworked: boolean
  readonly whenLate: readonly boolean[]
}

/** A station whose wafers go on, go back, leave the line as good cells or are lost. */
export abstract class PassingStation extends Station {
  /** Good wafers leave the line here. */
  readonly exit: boolean
  /** Standard normal scores of what is still to be drawn of wafers that leave the line here. */
  private readonly scores: Ahead
  protected readonly input: Channel
  /** Where wafers go on; not used at the exit. */
  protected readonly output: Channel
  protected readonly reworkChannel: Channel | undefined
  /** Wafers may go back, by rework or by a time limit. */
  protected readonly sendsBack: boolean
  /** Output of late wafers that go back, per time limit. */
  private readonly lateOutput: readonly number[]
  /** Column of the wafer table for when wafers leave here; -1: no time limit asks. */
  readonly stamp: number
  /** The caps on wafers that must know who leaves here (and who is taken, where one counts no further). */
  protected readonly counts: Count[] = []
  protected takenDepart = false

  constructor(
    readonly plan: ToolPlan,
    seat: Seat,
  ) {
    super(plan.name, seat)
    const { inputs, outputs } = seat
    this.exit = plan.outputs.length === 0
    const { seed, replication } = seat.key
    this.scores = new Ahead(openStream(seed, replication, plan.name, 'leaves'), 'normal')
    this.input = inputs[0]
    this.output = outputs[0]
    const channels = outputsOf(plan)
    const rework = plan.outcome.rework?.channel ?? -1
    this.reworkChannel = rework < 0 ? undefined : outputs[plan.outputs.length]
    this.lateOutput = plan.timeLimits.map(limit => channels.indexOf(limit.channel))
    this.sendsBack = outputs.length > plan.outputs.length
    this.stamp = plan.stamp
  }

  // ---- time limits -------------------------------------------------------------

  /** Whether a time limit says something of a wafer that is taken at `time`. */
  isLate(wafer: number, time: number): boolean {
    const { timeLimits } = this.plan
    for (let l = 0; l < timeLimits.length; l++)
      if (time - this.wafers.stamps[timeLimits[l].stamp][wafer] > timeLimits[l].atMost) return true
    return false
  }

  /** Whether a time limit says something of one of the first wafers of a load. */
  protected anyLate(load: Int32Array, wafers: number, time: number): boolean {
    for (const { stamp, atMost } of this.plan.timeLimits) {
      const stamps = this.wafers.stamps[stamp]
      for (let w = 0; w < wafers; w++) if (time - stamps[load[w]] > atMost) return true
    }
    return false
  }

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
    const { wafers } = this
    return this.plan.timeLimits.some(limit => {
      if (time - wafers.stamps[limit.stamp][wafer] <= limit.atMost || limit.late === 'pass') return false
      return limit.late === 'scrap' || limit.thenScrap || wafers.passesOf(wafer, limit.loop) < limit.back
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
    if (this.wafers.passesOf(wafer, limit.loop) >= limit.back)
      return limit.thenScrap ? this.scrapLate(l, wafer, time) : true
    this.wafers.countPass(wafer, limit.loop)
    this.meter.late[l * LATE_COLUMNS + LATE_BACK]++
    for (const count of this.counts) if (count.whenLate[l]) this.depart(count, wafer, time)
    const output = this.lateOutput[l]
    this.outputs[output].put(wafer, time)
    this.meter.countFlow(this.inputs.length + output, time)
    return false
  }

  /** A wafer leaves the line as a loss. */
  removeWafer(wafer: number, time: number): void {
    this.meter.counter[LOST_STAY_SUM] += time - this.wafers.birth[wafer]
    this.countGone(wafer, time)
    this.wafers.release(wafer)
  }

  /** Before this tick no wafer goes back for rework. */
  protected earliestBack = START

  /** Promises what goes back: late wafers when they would be taken, others at the end of their work. */
  protected promiseBack(take: number, back: number): void {
    for (let k = this.exit ? 0 : 1; k < this.outputs.length; k++) this.outputs[k].putsFrom = take
    if (!this.reworkChannel) return
    this.earliestBack = this.nextBack(back)
    this.reworkChannel.putsFrom = this.earliestBack
  }

  /** Before this tick no wafer ends its work that goes back, taking none before `take`. */
  protected abstract nextBack(take: number): number

  /** A wafer goes to the rework channel, the last output. */
  sendBack(wafer: number, time: number): void {
    for (const count of this.counts) if (count.whenReworked) this.depart(count, wafer, time)
    this.reworkChannel?.put(wafer, time)
    this.meter.countFlow(this.inputs.length + this.plan.outputs.length, time)
  }

  /** Hands a wafer to the next station; the place has been found at `time`. */
  protected handOver(wafer: number, time: number): void {
    if (this.stamp >= 0) this.wafers.stamps[this.stamp][wafer] = time
    if (this.output.bounded) this.output.useRoom(time)
    this.output.put(wafer, time)
    this.meter.countFlow(this.inputs.length, time)
  }

  /** Hands a good wafer out of the line. */
  leave(wafer: number, time: number): void {
    const { birth, efficiency } = this.wafers
    const made = efficiency.length > 0 ? this.wafers.made(wafer, this.scores) : 0
    this.meter.leave(time - birth[wafer], made)
    this.countGone(wafer, time)
    this.wafers.release(wafer)
  }

  private countGone(wafer: number, time: number): void {
    this.meter.countFlow(this.inputs.length + this.outputs.length, time)
    for (const count of this.counts) this.depart(count, wafer, time)
  }

  /**
   * A cap counts the wafers that leave here.
   *
   * @param number of this station among those that count
   * @param leadsBack whether a channel of the plan leads to before the station that counts
   */
  countDepartures(departures: Departures, number: number, leadsBack: (channel: number) => boolean): void {
    const { outcome, timeLimits, step } = this.plan
    const whenTaken = step === departures.until
    const whenReworked = leadsBack(outcome.rework?.channel ?? -1)
    const whenLate = timeLimits.map(limit => leadsBack(limit.channel))
    this.counts.push({ departures, number, whenTaken, whenReworked, whenLate })
    this.takenDepart ||= whenTaken
  }

  /** Before this tick no wafer leaves what these departures are of that is not recorded. */
  departsNotBefore(departures: Departures): number {
    let bound = this.losesNotBefore()
    const count = this.counts.find(own => own.departures === departures)
    if (count?.whenReworked) bound = Math.min(bound, this.earliestBack)
    const whenTaken = count?.whenTaken || count?.whenLate.includes(true) || scrapsLate(this.plan)
    // What it would have done before its last act is recorded.
    return Math.max(this.now, whenTaken ? Math.min(bound, this.promises.take) : bound)
  }

  /** Before this tick no wafer leaves the line from within the tools that is not recorded. */
  protected abstract losesNotBefore(): number

  /** A tool takes a wafer. */
  protected countTaken(wafer: number, time: number): void {
    this.meter.countFlow(0, time)
    if (this.takenDepart) this.departTaken(wafer, time)
  }

  /** The wafer is taken where the count of a cap may end. */
  protected departTaken(wafer: number, time: number): void {
    for (const count of this.counts) if (count.whenTaken) this.depart(count, wafer, time)
  }

  /** The first wafers of a load count for the cap of this column from now on. */
  protected countIn(column: number, load: Int32Array, wafers: number): void {
    for (let w = 0; w < wafers; w++) this.wafers.counted[column][load[w]] = 1
  }

  /** The cap counts the wafer no longer; once only, since a wafer may come back from beyond the step where the count ends. */
  private depart({ departures, number }: Count, wafer: number, time: number): void {
    const { uncounted, counted } = this.wafers
    if (departures.column >= 0) {
      if (counted[departures.column][wafer] === 0) return
      counted[departures.column][wafer] = 0
    } else if (uncounted.length > 0) {
      if (uncounted[wafer] === 1) return
      uncounted[wafer] = 1
    }
    departures.add(number, time)
  }
}
