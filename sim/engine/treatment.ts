import { Hazards, hazardOf } from '../chance/hazard.ts'
import { openStream } from '../chance/streams.ts'
import type { TreatmentPlan } from '../plan/plan.ts'
import type { RunKey } from './draw.ts'
import type { Wafers } from './wafers.ts'

/** A wafer that is treated by itself. */
const ONE = new Int32Array(1)

/**
 * What a step does to every wafer that leaves it: change of efficiency, wear of the
 * tool that grows from one stop to the next, hidden defects that only a test finds,
 * harm by waiting in the tool.
 */
export class Treatment {
  /** Wafers since the stop that takes the wear away. */
  private readonly worn: Float64Array
  private readonly hidden: Hazards[] = []
  /** Hazard of hidden defects while nothing is worn or overdue. */
  private readonly plainHazard: number

  /**
   * @param step index of the step, which marks its hidden defects
   * @param overdue share of hidden defects that overdue stops of a tool add to a wafer whose work has ended then
   */
  constructor(
    private readonly plan: TreatmentPlan,
    private readonly step: number,
    private readonly wafers: Wafers,
    private readonly overdue: (tool: number, ended: number) => number,
    name: string,
    tools: number,
    key: RunKey,
  ) {
    this.worn = new Float64Array(tools)
    this.plainHazard = hazardOf(plan.defects)
    for (let t = 0; t < tools; t++) {
      const tool = [name, `tool ${t + 1}`]
      this.hidden.push(new Hazards(openStream(key.seed, key.replication, ...tool, 'hidden defect')))
    }
  }

  /** It matters how long a wafer was held in the tool. */
  get harmsHeld(): boolean {
    return this.plan.heldUp !== undefined
  }

  /** A wafer leaves the tool whose work has ended at `ended`, having been held there for `held` ticks. */
  apply(tool: number, wafer: number, ended: number, held: number): void {
    ONE[0] = wafer
    this.applyAll(tool, ONE, -1, 0, 1, ended, held)
  }

  /**
   * Wafers leave one after the other, all alike: their work ended at `ended`, and they were
   * held for `held` ticks. Exact also where these differ, if
   * nothing harms what is held (`heldUp`) and no stop waits: then nobody looks at them.
   *
   * @param ring rows of the wafers, `count` from a place on (a mask of -1: an array)
   */
  applyAll(
    tool: number,
    ring: Int32Array,
    mask: number,
    from: number,
    count: number,
    ended: number,
    held: number,
  ): void {
    const { drift } = this.plan
    const { efficiency, mark } = this.wafers
    if (efficiency.length > 0) this.changeAll(tool, ring, mask, from, count, held)
    if (mark.length > 0) this.hideAll(tool, ring, mask, from, count, ended)
    if (drift) this.worn[tool] += count
  }

  private changeAll(
    tool: number,
    ring: Int32Array,
    mask: number,
    from: number,
    count: number,
    held: number,
  ): void {
    const { drift, heldUp, shift, sd } = this.plan
    const { efficiency, spread } = this.wafers
    const variance = sd * sd
    if (variance > 0) for (let w = from; w < from + count; w++) spread[ring[w & mask]] += variance
    const worn = this.worn[tool]
    const change = heldUp && held > heldUp.after ? shift - heldUp.loses : shift
    if (change === 0 && !drift) return
    for (let w = 0; w < count; w++) {
      const wear = drift ? wornShare(worn + w, drift.wafers[tool]) * drift.loses : 0
      efficiency[ring[(from + w) & mask]] += change - wear
    }
  }

  private hideAll(
    tool: number,
    ring: Int32Array,
    mask: number,
    from: number,
    count: number,
    ended: number,
  ): void {
    const { drift } = this.plan
    const { mark } = this.wafers
    const hidden = this.hidden[tool]
    const overdue = this.overdue(tool, ended)
    const more = overdue > 0 ? hazardOf(overdue) : 0
    const worn = this.worn[tool]
    for (let w = 0; w < count; w++) {
      if (drift) {
        const wear = wornShare(worn + w, drift.wafers[tool])
        const hazard = this.plainHazard + hazardOf(wear * drift.defects) + more
        if (!(hazard > 0 && hidden.strikes(hazard))) continue
      } else {
        const hazard = this.plainHazard + more
        if (hazard === 0) return
        w += hidden.first(hazard, count - w)
        if (w === count) return
      }
      const wafer = ring[(from + w) & mask]
      if (mark[wafer] === 0) mark[wafer] = this.step + 1
    }
  }

  /** Wafers inside a belt that stood for `held` ticks. */
  hold(wafer: number, held: number): void {
    const { heldUp } = this.plan
    if (heldUp && held > heldUp.after && this.wafers.efficiency.length > 0)
      this.wafers.efficiency[wafer] -= heldUp.loses
  }

  /** Wafers that the tool has done and that do not go on: they wear it too. */
  wear(tool: number, wafers: number): void {
    this.worn[tool] += wafers
  }

  /** A stop of the tool is over. */
  renewed(tool: number, stop: number): void {
    if (this.plan.drift?.stop === stop) this.worn[tool] = 0
  }
}

/** How far the tool is worn after so many wafers: if the stop comes late, no further. */
function wornShare(wafers: number, untilStop: number): number {
  return Math.min(1, wafers / untilStop)
}
