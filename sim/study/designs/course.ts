import { type Blocks, FINE_PER_COARSE } from '../../engine/blocks.ts'
import {
  BROKEN,
  COUNTERS,
  DUMMIES,
  EFFICIENCY_SUM,
  LATE_BACK,
  LATE_COLUMNS,
  LATE_SCRAPPED,
  LOST,
  REJECTED,
  REWORKED,
  STARTS,
  STATES,
  STAY_SUM,
  STOP_COLUMNS,
  STOP_COUNT,
} from '../../engine/meter.ts'
import type { Rows, StepRows } from '../../measure/rows.ts'
import { TICKS_PER_HOUR } from '../../plan/plan.ts'

/**
 * What the studies of many designs keep of one replication: the course of output and
 * input, so that the warm-up can still be cut where it must. Some kilobytes, where the
 * rows of a large line take megabytes.
 */
export interface Course {
  /** Fine rows, cumulative: good cells out, wafers in. */
  readonly line: { readonly good: Float64Array; readonly started: Float64Array }
  /** Coarse rows, cumulative: sum of the efficiencies of good cells. */
  readonly efficiencies: Float64Array
  /** Coarse rows, cumulative: sum of the stays of good cells [ticks], area of wafers in the line [wafer ticks]. */
  readonly stays: Float64Array
  readonly area: Float64Array
  /** Coarse rows x steps, cumulative: wafers started, wafers lost there in any way, wafers sent back. */
  readonly starts: Float64Array
  readonly lost: Float64Array
  readonly reworked: Float64Array
  /** Of each step: coarse rows x its time limits x LATE_COLUMNS, cumulative. */
  readonly late: readonly Float64Array[]
  /** Of each step: coarse rows x its stops, cumulative: how often each has come. */
  readonly stops: readonly Float64Array[]
  /** Places of short loads filled with dummy wafers. */
  readonly dummies: Float64Array
  /** Wafers passed on. */
  readonly passed: Float64Array
  /** Coarse rows x steps x states, cumulative: tool time [ticks]. */
  readonly states: Float64Array
  /** Tools of each step. */
  readonly tools: readonly number[]
  readonly steps: number
  readonly blocks: Blocks
  /** As in the rows. */
  readonly cutBy: number
  readonly patterned: boolean
}

/** The figures of one replication over the window from coarse block `cut` to the end. Per hour; fractions. */
export interface Output {
  /** Length of the window. */
  readonly hours: number
  /** Of each step. */
  readonly tools: readonly number[]
  readonly goodPerHour: number
  readonly startedPerHour: number
  /** Mean efficiency of good cells; undefined without any, or when the line does not say. */
  readonly efficiency: number | undefined
  /** Wafers in the line, time average; mean time that a good cell has spent in it [h]. */
  readonly wip: number
  readonly throughputHours: number | undefined
  /** Of each step, in the order of the plan: starts, wafers lost, wafers sent back, places filled with dummy wafers. */
  readonly startsPerHour: readonly number[]
  readonly lostPerHour: readonly number[]
  readonly reworkedPerHour: readonly number[]
  /** Of each step, of each of its time limits: wafers that it has not started since they came too late. */
  readonly latePerHour: readonly (readonly LateWafers[])[]
  readonly dummiesPerHour: readonly number[]
  /** Of each step, of each of its stops, those of the scenario first and in their order: how often it comes to a tool. */
  readonly stopsPerHour: readonly (readonly number[])[]
}

/** Wafers that a time limit has kept from a step, an hour; those scrapped are among the lost ones too. */
export interface LateWafers {
  readonly scrapped: number
  readonly sentBack: number
}

/** Takes out of the rows what a course keeps. */
export function courseOf(rows: Rows): Course {
  const { line, steps, blocks, cutBy, patterned } = rows
  const coarseRows = blocks.coarseCount + 1
  const perStep = (value: (counters: Float64Array, at: number, step: StepRows, row: number) => number) => {
    const table = new Float64Array(coarseRows * steps.length)
    for (let row = 0; row < coarseRows; row++)
      steps.forEach((step, s) => {
        table[row * steps.length + s] = value(step.counters, row * COUNTERS, step, row)
      })
    return table
  }
  const ofLine = (counter: number) =>
    Float64Array.from({ length: coarseRows }, (_, row) => line.counters[row * COUNTERS + counter])
  return {
    line: { good: line.good, started: line.started },
    efficiencies: ofLine(EFFICIENCY_SUM),
    stays: ofLine(STAY_SUM),
    area: line.area,
    starts: perStep((counters, at) => counters[at + STARTS]),
    lost: perStep((counters, at) => counters[at + BROKEN] + counters[at + REJECTED] + counters[at + LOST]),
    reworked: perStep((counters, at) => counters[at + REWORKED]),
    late: steps.map(({ late }) => late.slice()),
    stops: steps.map(({ stops }) => stops.filter((_, i) => i % STOP_COLUMNS === STOP_COUNT)),
    dummies: perStep((counters, at) => counters[at + DUMMIES]),
    passed: perStep((_counters, _at, step, row) => step.passed[row]),
    states: statesOf(steps, coarseRows),
    tools: steps.map(step => step.tools),
    steps: steps.length,
    blocks,
    cutBy,
    patterned,
  }
}

function statesOf(steps: readonly StepRows[], rows: number): Float64Array {
  const width = steps.length * STATES
  const table = new Float64Array(rows * width)
  for (let row = 0; row < rows; row++)
    steps.forEach(({ states }, s) => {
      table.set(states.subarray(row * STATES, (row + 1) * STATES), row * width + s * STATES)
    })
  return table
}

/** Reads the window off a course. */
export function outputOf(course: Course, cut: number): Output {
  const { line, efficiencies, stays, area, blocks } = course
  const { coarse, coarseCount, fineCount, horizon } = blocks
  const ticks = horizon - cut * coarse
  const hours = ticks / TICKS_PER_HOUR
  const from = cut * FINE_PER_COARSE
  const good = line.good[fineCount] - line.good[from]
  // A column per step, or per stop or time limit of a step.
  const perHour = (table: Float64Array) => gainsOf(table, coarseCount, cut).map(gain => gain / hours)
  const efficiency = (efficiencies[coarseCount] - efficiencies[cut]) / good
  return {
    hours,
    tools: course.tools,
    goodPerHour: good / hours,
    startedPerHour: (line.started[fineCount] - line.started[from]) / hours,
    efficiency: good > 0 && efficiency > 0 ? efficiency : undefined,
    wip: (area[coarseCount] - area[cut]) / ticks,
    throughputHours: good > 0 ? (stays[coarseCount] - stays[cut]) / good / TICKS_PER_HOUR : undefined,
    startsPerHour: perHour(course.starts),
    lostPerHour: perHour(course.lost),
    reworkedPerHour: perHour(course.reworked),
    latePerHour: course.late.map(table => lateOf(perHour(table))),
    dummiesPerHour: perHour(course.dummies),
    stopsPerHour: course.stops.map(perHour),
  }
}

/** Growth of each column of a table of cumulative coarse rows, from row `cut` to the last. */
function gainsOf(table: Float64Array, last: number, cut: number): number[] {
  const columns = table.length / (last + 1)
  return Array.from({ length: columns }, (_, c) => table[last * columns + c] - table[cut * columns + c])
}

/** @param perHour LATE_COLUMNS figures of each time limit of a step */
function lateOf(perHour: readonly number[]): LateWafers[] {
  return Array.from({ length: perHour.length / LATE_COLUMNS }, (_, limit) => ({
    scrapped: perHour[limit * LATE_COLUMNS + LATE_SCRAPPED],
    sentBack: perHour[limit * LATE_COLUMNS + LATE_BACK],
  }))
}
