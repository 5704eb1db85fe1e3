import { signedQuantity } from '../base/quantity.ts'
import { mean } from '../chance/law.ts'
import type { Step } from '../line/types.ts'
import { share, ticks } from './laws.ts'
import { PIECES, RUNNING, type StopPlan, TICKS_PER_WEEK, type TreatmentPlan } from './plan.ts'
import type { ToolPart } from './step-plan.ts'

/** What the step does to each wafer besides the work; undefined when it does nothing. */
export function treatmentPlan(
  step: Step,
  part: ToolPart,
  stops: readonly StopPlan[],
): TreatmentPlan | undefined {
  const { effect, drift, heldUp, defects } = step
  if (!effect && !drift && !heldUp && !defects && !stops.some(stop => stop.overdue > 0)) return undefined
  return {
    shift: effect?.shift === undefined ? 0 : signedQuantity('share', effect.shift),
    sd: share(effect?.sd),
    defects: share(defects),
    ...(drift && { drift: driftPlan(drift, part, stops) }),
    ...(heldUp && { heldUp: { after: ticks(heldUp.after), loses: share(heldUp.loses) } }),
  }
}

function driftPlan(
  drift: NonNullable<Step['drift']>,
  part: ToolPart,
  stops: readonly StopPlan[],
): NonNullable<TreatmentPlan['drift']> {
  const stop = stops.findIndex(({ name }) => name === drift.until)
  const wafers = wafersOf(stops[stop], part).map(done => Math.max(1, done))
  return { stop, wafers, loses: share(drift.loses), defects: share(drift.defects) }
}

/** Wafers that each tool does from one such stop to the next, when it always works. */
function wafersOf({ clock, every, occasions }: StopPlan, part: ToolPart): number[] {
  const load = part.kind === 'batch' ? part.load : 1
  const span =
    clock === RUNNING || occasions?.kind !== 'weekly' ? mean(every) : TICKS_PER_WEEK / occasions.starts.length
  return piecesOf(part).map(perPiece => (clock === PIECES ? mean(every) * load : (span / perPiece) * load))
}

/** How long each tool works on a piece [ticks]. */
function piecesOf(part: ToolPart): number[] {
  if (part.kind === 'single') return part.cycle.map(mean)
  const perPiece = part.kind === 'belt' ? part.slot : mean(part.time)
  return new Array<number>(part.tools).fill(perPiece)
}

/** Whether wafers can leave the step with a hidden defect. */
export function marksWafers(step: Step): boolean {
  return [step.defects, step.drift?.defects, ...(step.stops ?? []).map(stop => stop.overdue)].some(
    given => share(given) > 0,
  )
}
