import type {
  BatchPlan,
  BeltPlan,
  OutcomePlan,
  SinglePlan,
  StationPlan,
  StopPlan,
  TimeLimitPlan,
  TreatmentPlan,
} from './plan.ts'

/**
 * The same plan, each part of it as one literal with every field, absent ones undefined.
 * Objects put together from parts differ in shape, or have none; then the engine must look
 * each field up by its name, which costs it more than the work on a wafer.
 */
export function uniform(plan: StationPlan): StationPlan {
  switch (plan.kind) {
    case 'single':
      return uniformSingle(plan)
    case 'belt':
      return uniformBelt(plan)
    case 'batch':
      return uniformBatch(plan)
    default:
      return plan
  }
}

function uniformSingle(plan: SinglePlan): SinglePlan {
  return {
    kind: plan.kind,
    name: plan.name,
    step: plan.step,
    place: plan.place,
    inputs: plan.inputs,
    outputs: plan.outputs,
    tools: plan.tools,
    stops: plan.stops.map(uniformStop),
    outcome: uniformOutcome(plan.outcome),
    timeLimits: plan.timeLimits.map(uniformLimit),
    treatment: plan.treatment && uniformTreatment(plan.treatment),
    stamp: plan.stamp,
    warmUp: plan.warmUp,
    cycle: plan.cycle,
  }
}

function uniformBelt(plan: BeltPlan): BeltPlan {
  return {
    kind: plan.kind,
    name: plan.name,
    step: plan.step,
    place: plan.place,
    inputs: plan.inputs,
    outputs: plan.outputs,
    tools: plan.tools,
    stops: plan.stops.map(uniformStop),
    outcome: uniformOutcome(plan.outcome),
    timeLimits: plan.timeLimits.map(uniformLimit),
    treatment: plan.treatment && uniformTreatment(plan.treatment),
    stamp: plan.stamp,
    warmUp: plan.warmUp,
    slot: plan.slot,
    transit: plan.transit,
    halts: plan.halts,
    keepFree: plan.keepFree,
    tolerance: plan.tolerance,
    overProcessed: plan.overProcessed,
  }
}

function uniformBatch(plan: BatchPlan): BatchPlan {
  return {
    kind: plan.kind,
    name: plan.name,
    step: plan.step,
    place: plan.place,
    inputs: plan.inputs,
    outputs: plan.outputs,
    tools: plan.tools,
    stops: plan.stops.map(uniformStop),
    outcome: uniformOutcome(plan.outcome),
    timeLimits: plan.timeLimits.map(uniformLimit),
    treatment: plan.treatment && uniformTreatment(plan.treatment),
    stamp: plan.stamp,
    warmUp: plan.warmUp,
    tubesPerTool: plan.tubesPerTool,
    load: plan.load,
    least: plan.least,
    longestWait: plan.longestWait,
    time: plan.time,
    loading: plan.loading,
    unloading: plan.unloading,
    serves: plan.serves,
    boats: plan.boats,
    dummyRuns: plan.dummyRuns,
    cap: plan.cap,
  }
}

function uniformStop(plan: StopPlan): StopPlan {
  const {
    name,
    clock,
    every,
    afterIdle,
    first,
    occasions,
    lasts,
    fate,
    lose,
    setUp,
    kind,
    call,
    waits,
    waitsAtMost,
    overdue,
  } = plan
  return {
    name,
    clock,
    every,
    afterIdle,
    first,
    occasions,
    lasts,
    fate,
    lose,
    setUp,
    kind,
    call,
    waits,
    waitsAtMost,
    overdue,
  }
}

function uniformOutcome(plan: OutcomePlan): OutcomePlan {
  const { breakage, clearing, reject, rework, test, boxes } = plan
  return { breakage, clearing, reject, rework, test, boxes }
}

function uniformLimit(plan: TimeLimitPlan): TimeLimitPlan {
  const { after, stamp, atMost, late, loses, channel, loop, back, thenScrap } = plan
  return { after, stamp, atMost, late, loses, channel, loop, back, thenScrap }
}

function uniformTreatment(plan: TreatmentPlan): TreatmentPlan {
  const { shift, sd, defects, drift, heldUp } = plan
  return { shift, sd, defects, drift, heldUp }
}
