import type { BatchPlan, BeltPlan, SinglePlan, StationPlan } from './plan.ts'

/**
 * The same plan as one literal with every field, absent ones undefined. Objects put
 * together from parts differ in shape, or have none; then the engine must look each field
 * up by its name, which costs it more than the work on a wafer.
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
    stops: plan.stops,
    outcome: plan.outcome,
    timeLimits: plan.timeLimits,
    stamp: plan.stamp,
    treatment: plan.treatment,
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
    stops: plan.stops,
    outcome: plan.outcome,
    timeLimits: plan.timeLimits,
    stamp: plan.stamp,
    treatment: plan.treatment,
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
    stops: plan.stops,
    outcome: plan.outcome,
    timeLimits: plan.timeLimits,
    stamp: plan.stamp,
    treatment: plan.treatment,
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
