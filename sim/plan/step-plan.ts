import { quantity } from '../base/quantity.ts'
import type { Time } from '../base/units.ts'
import type { Spread } from '../chance/spec.ts'
import { beltPace } from '../line/rates.ts'
import type { Batch, Belt, Bins, Step, Stop } from '../line/types.ts'
import { countLaw, share, ticks, timeLaw } from './laws.ts'
import {
  type BatchPlan,
  type BeltPlan,
  type BinsPlan,
  CALENDAR,
  LOSE,
  LOSE_SOME,
  type OutcomePlan,
  PIECES,
  RESTART,
  RESUME,
  RUN_OUT,
  RUNNING,
  type SinglePlan,
  type StopPlan,
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
      'kind' | 'tools' | 'tubesPerTool' | 'load' | 'least' | 'longestWait' | 'time' | 'loading' | 'unloading'
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
  }
}

export function stopPlan(stop: Stop, onBelt: 'on a belt' | 'not on a belt'): StopPlan {
  const counts = stop.counts ?? 'running time'
  const clock = counts === 'running time' ? RUNNING : counts === 'calendar time' ? CALENDAR : PIECES
  const inside = stop.inside ?? (onBelt === 'on a belt' ? 'run out' : 'resume')
  const lose = typeof inside === 'string' ? 0 : inside.lose
  return {
    name: stop.stop,
    clock,
    every: clock === PIECES ? countLaw(stop.every as Spread<number>) : timeLaw(stop.every as Spread<Time>),
    lasts: timeLaw(stop.lasts),
    fate: typeof inside === 'string' ? FATES[inside] : LOSE_SOME,
    lose: typeof lose === 'number' ? [lose, lose] : lose,
    scheduled: stop.kind === 'scheduled',
  }
}

const FATES = { resume: RESUME, restart: RESTART, lose: LOSE, 'run out': RUN_OUT } as const

/**
 * @param rework channel and column of the rework loop, when the step has one
 * @param bins when this is the test that sorts
 */
export function outcomePlan(
  step: Step,
  rework: { channel: number; loop: number } | undefined,
  bins: BinsPlan | undefined,
): OutcomePlan {
  const breakage = typeof step.breakage === 'object' ? step.breakage : { share: step.breakage }
  const clearing = typeof step.breakage === 'object' ? step.breakage.clearing : undefined
  const { test } = step
  return {
    breakage: share(breakage.share),
    ...(clearing && {
      clearing: {
        share: clearing.share === undefined ? 1 : share(clearing.share),
        lasts: timeLaw(clearing.lasts),
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
        ...(bins && { bins }),
      },
    }),
  }
}

export function binsPlan({ first, width, count }: Bins): BinsPlan {
  return { first: quantity('share', first), width: quantity('share', width), count }
}
