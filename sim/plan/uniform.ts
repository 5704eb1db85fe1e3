import type {
  BatchPlan,
  BeltPlan,
  OutcomePlan,
  SinglePlan,
  StationPlan,
  StopPlan,
  TimeLimitPlan,
  ToolPlan,
  TreatmentPlan,
} from './plan.ts'

/** The fields that any kind of tool has. */
type ToolFields = { readonly kind: ToolPlan['kind'] } & Omit<SinglePlan, 'kind'> &
  Omit<BeltPlan, 'kind'> &
  Omit<BatchPlan, 'kind'>

/**
 * The same plan, each part of it as one literal with every field, absent ones undefined.
 * Objects put together from parts differ in shape, or have none; then the engine must look
 * each field up by its name, which costs it more than the work on a wafer.
 *
 * The compiler sees that no field is left out.
 */
export function uniform(plan: StationPlan): StationPlan {
  return 'outcome' in plan ? uniformTools(plan) : plan
}

/** Tools of all kinds have the fields of all. */
function uniformTools(plan: ToolPlan): ToolPlan {
  const tools = plan as unknown as ToolFields
  const { treatment } = tools
  const same = {
    kind: tools.kind,
    name: tools.name,
    step: tools.step,
    place: tools.place,
    inputs: tools.inputs,
    outputs: tools.outputs,
    tools: tools.tools,
    stops: tools.stops.map(uniformStop),
    outcome: uniformOutcome(tools.outcome),
    timeLimits: tools.timeLimits.map(uniformLimit),
    treatment: treatment && uniformTreatment(treatment),
    stamp: tools.stamp,
    warmUp: tools.warmUp,
    cycle: tools.cycle,
    slot: tools.slot,
    transit: tools.transit,
    halts: tools.halts,
    keepFree: tools.keepFree,
    tolerance: tools.tolerance,
    overProcessed: tools.overProcessed,
    tubesPerTool: tools.tubesPerTool,
    load: tools.load,
    least: tools.least,
    longestWait: tools.longestWait,
    time: tools.time,
    loading: tools.loading,
    unloading: tools.unloading,
    serves: tools.serves,
    boats: tools.boats,
    dummyRuns: tools.dummyRuns,
    cap: tools.cap,
  } satisfies Record<keyof ToolFields, unknown>
  return same as unknown as ToolPlan
}

function uniformStop(plan: StopPlan): StopPlan {
  const {
    name,
    clock,
    every,
    afterIdle,
    first,
    aged,
    walked,
    occasions,
    lasts,
    fate,
    lose,
    setUp,
    renews,
    kind,
    call,
    waits,
    moments,
    waitsAtMost,
    overdue,
  } = plan
  return {
    name,
    clock,
    every,
    afterIdle,
    first,
    aged,
    walked,
    occasions,
    lasts,
    fate,
    lose,
    setUp,
    renews,
    kind,
    call,
    waits,
    moments,
    waitsAtMost,
    overdue,
  } satisfies Record<keyof StopPlan, unknown>
}

function uniformOutcome(plan: OutcomePlan): OutcomePlan {
  const { breakage, clearing, reject, rework, test, boxes } = plan
  return { breakage, clearing, reject, rework, test, boxes } satisfies Record<keyof OutcomePlan, unknown>
}

function uniformLimit(plan: TimeLimitPlan): TimeLimitPlan {
  const { after, stamp, atMost, late, loses, channel, loop, back, thenScrap } = plan
  return { after, stamp, atMost, late, loses, channel, loop, back, thenScrap } satisfies Record<
    keyof TimeLimitPlan,
    unknown
  >
}

function uniformTreatment(plan: TreatmentPlan): TreatmentPlan {
  const { shift, sd, defects, drift, heldUp } = plan
  return { shift, sd, defects, drift, heldUp } satisfies Record<keyof TreatmentPlan, unknown>
}
