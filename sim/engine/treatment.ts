import { Ahead } from '../chance/ahead.ts'
import { Hazards, hazardOf } from '../chance/hazard.ts'
import { openStream } from '../chance/streams.ts'
import type { TreatmentPlan } from '../plan/plan.ts'
import type { RunKey } from './draw.ts'
import type { Wafers } from './wafers.ts'

/**
 * What a step does to every wafer that leaves it: change of efficiency, wear of the
 * tool that grows from one stop to the next, hidden defects that only a test finds,
 * harm by waiting in the tool.
 */
export class Treatment {
  /** Wafers since the stop that takes the wear away. */
  private readonly worn: Float64Array
  /** Standard normal scores of the change of efficiency, per tool. */
  private readonly scores: Ahead[] = []
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
      this.scores.push(new Ahead(openStream(key.seed, key.replication, ...tool, 'effect'), 'normal'))
      this.hidden.push(new Hazards(openStream(key.seed, key.replication, ...tool, 'hidden defect')))
    }
  }

  /** A wafer leaves the tool whose work has ended at `ended`, having been held there for `held` ticks. */
  apply(tool: number, wafer: number, ended: number, held: number): void {
    const { drift, heldUp, shift, sd } = this.plan
    const wear = drift ? this.worn[tool]++ / drift.wafers : 0
    const { efficiency, mark } = this.wafers
    if (efficiency.length > 0) {
      let change = sd > 0 ? shift + sd * this.scores[tool].next() : shift
      if (drift) change -= wear * drift.loses
      if (heldUp && held > heldUp.after) change -= heldUp.loses
      efficiency[wafer] += change
    }
    if (mark.length === 0) return
    const overdue = this.overdue(tool, ended)
    let hazard = this.plainHazard
    if (drift) hazard += hazardOf(wear * drift.defects)
    if (overdue > 0) hazard += hazardOf(overdue)
    if (hazard > 0 && this.hidden[tool].strikes(hazard) && mark[wafer] === 0) mark[wafer] = this.step + 1
  }

  /** Wafers inside a belt that stood for `held` ticks. */
  hold(wafer: number, held: number): void {
    const { heldUp } = this.plan
    if (heldUp && held > heldUp.after && this.wafers.efficiency.length > 0)
      this.wafers.efficiency[wafer] -= heldUp.loses
  }

  /** A stop of the tool is over. */
  renewed(tool: number, stop: number): void {
    if (this.plan.drift?.stop === stop) this.worn[tool] = 0
  }
}
