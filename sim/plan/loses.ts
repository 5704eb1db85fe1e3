import { LOSE, LOSE_SOME, type ToolPlan } from './plan.ts'

/** Whether wafers can leave the line at the station, as good cells or as losses. */
export function losesWafers(plan: ToolPlan): boolean {
  const { breakage, reject, rework, test } = plan.outcome
  const scrapsAtTheEnd = plan.kind === 'belt' && plan.tolerance < Infinity
  return (
    plan.outputs.length === 0 ||
    breakage > 0 ||
    reject > 0 ||
    rework?.thenReject === true ||
    test !== undefined ||
    scrapsAtTheEnd ||
    plan.stops.some(({ fate, setUp }) => fate === LOSE || fate === LOSE_SOME || setUp[1] > 0) ||
    scrapsLate(plan)
  )
}

/** Whether wafers that come too late can be scrapped when a tool would take them. */
export function scrapsLate({ timeLimits }: ToolPlan): boolean {
  return timeLimits.some(({ late, thenScrap }) => late !== 'pass' && thenScrap)
}
