import type { Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'
import { beltPace } from '../line/pace.ts'
import type { Batch, Belt, Boats, Step } from '../line/types.ts'
import type { Sorts } from './bins-plan.ts'
import { share, ticks, timeLaw } from './laws.ts'
import { callPlan } from './people.ts'
import {
  type BatchPlan,
  type BeltPlan,
  type BoatsPlan,
  type OutcomePlan,
  type PeoplePlan,
  type SinglePlan,
  TICKS_PER_SECOND,
} from './plan.ts'

/** What only this kind of tool has. */
export type ToolPart =
  | Pick<SinglePlan, 'kind' | 'tools' | 'cycle'>
  | Pick<
      BeltPlan,
      'kind' | 'tools' | 'slot' | 'transit' | 'halts' | 'keepFree' | 'tolerance' | 'overProcessed'
    >
  | Pick<
      BatchPlan,
      | 'kind'
      | 'tools'
      | 'tubesPerTool'
      | 'load'
      | 'least'
      | 'longestWait'
      | 'time'
      | 'loading'
      | 'unloading'
      | 'serves'
      | 'boats'
      | 'dummyRuns'
    >

export function toolPart(step: Step): ToolPart {
  const tools = step.tools ?? 1
  if (step.belt) return beltPart(step.belt, tools)
  if (step.batch) return batchPart(step.batch, tools)
  const cycles = step.cycles ?? Array.from({ length: tools }, () => step.cycle as Spread<Time>)
  return { kind: 'single', tools, cycle: cycles.map(timeLaw) }
}

function beltPart(belt: Belt, tools: number): ToolPart {
  const { spacing, transit } = beltPace(belt)
  return {
    kind: 'belt',
    tools,
    slot: Math.max(1, Math.round((spacing * TICKS_PER_SECOND) / (belt.lanes ?? 1))),
    transit: Math.round(transit * TICKS_PER_SECOND),
    halts: belt.whenFull === 'stop',
    keepFree: belt.keepFree ?? Infinity,
    tolerance: belt.tolerance === undefined ? Infinity : ticks(belt.tolerance),
    overProcessed: belt.overProcessed === undefined ? 1 : share(belt.overProcessed),
  }
}

function batchPart(batch: Batch, tools: number): ToolPart {
  const tubes = batch.tubes ?? 1
  return {
    kind: 'batch',
    tools: tools * tubes,
    tubesPerTool: tubes,
    load: batch.load,
    least: batch.least ?? batch.load,
    longestWait: batch.longestWait === undefined ? 0 : ticks(batch.longestWait),
    time: timeLaw(batch.time),
    loading: timeLaw(batch.loading ?? '0 s'),
    unloading: timeLaw(batch.unloading ?? '0 s'),
    serves: batch.loaderServes ?? 'longest waiting',
    ...(batch.boats && { boats: boatsPlan(batch.boats) }),
    ...(batch.dummies && { dummyRuns: batch.dummies.runs }),
  }
}

function boatsPlan({ perTool, cooling, cleaning, breakage }: Boats): BoatsPlan {
  return {
    perTool,
    cooling: timeLaw(cooling ?? '0 s'),
    ...(cleaning && {
      cleaning: {
        every: cleaning.every,
        lasts: timeLaw(cleaning.lasts),
        ...(cleaning.coating !== undefined && { coating: timeLaw(cleaning.coating) }),
      },
    }),
    ...(breakage && {
      breakage: { share: share(breakage.share), replacedAfter: timeLaw(breakage.replacedAfter) },
    }),
  }
}

/**
 * @param rework channel and column of the rework loop, when the step has one
 * @param sorts into what it sorts, when this is the test that does, and into which boxes, when it has them
 */
export function outcomePlan(
  step: Step,
  rework: { channel: number; loop: number } | undefined,
  sorts: Partial<Sorts>,
  people: PeoplePlan,
): OutcomePlan {
  const breakage = typeof step.breakage === 'object' ? step.breakage : { share: step.breakage }
  const clearing = typeof step.breakage === 'object' ? step.breakage.clearing : undefined
  const { test } = step
  const call = clearing && callPlan(clearing, people)
  return {
    breakage: share(breakage.share),
    ...(clearing && {
      clearing: {
        share: clearing.share === undefined ? 1 : share(clearing.share),
        lasts: timeLaw(clearing.lasts),
        ...(call && { call }),
      },
    }),
    reject: share(step.reject),
    ...(step.rework &&
      rework && {
        rework: {
          share: share(step.rework.share),
          ...rework,
          atMost: step.rework.atMost,
          thenReject: step.rework.then !== 'pass',
        },
      }),
    ...(test && {
      test: {
        noise: share(test.noise),
        rejectBelow: test.rejectBelow === undefined ? -Infinity : share(test.rejectBelow),
        reworkBelow: test.reworkBelow === undefined ? -Infinity : share(test.reworkBelow),
        finds: test.finds === undefined ? 1 : share(test.finds),
        downgrades: share(test.downgrades),
        ...(sorts.bins && { bins: sorts.bins }),
      },
    }),
    ...(sorts.boxes && { boxes: sorts.boxes }),
  }
}
