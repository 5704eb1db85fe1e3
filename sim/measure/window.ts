import { FINE_PER_COARSE } from '../engine/blocks.ts'
import { STAYS } from '../engine/classes.ts'
import {
  BROKEN,
  COUNTERS,
  DUMMIES,
  EFFICIENCY_SUM,
  GOOD,
  HELD_TIME,
  IDEAL_TIME,
  LATE_BACK,
  LATE_COLUMNS,
  LATE_COUNT,
  LATE_SCRAPPED,
  LOST,
  NON_SCHEDULED,
  PRODUCTIVE,
  REJECTED,
  REWORKED,
  SCHEDULED_DOWN,
  SET_UP,
  STARTS,
  STATES,
  STAY_SUM,
  STOP_COLUMNS,
  STOP_COUNT,
  STOP_LOST,
  STOP_TIME,
  STOP_WAIT,
  SWAPS,
  TURNED_AWAY,
} from '../engine/meter.ts'
import { TICKS_PER_HOUR } from '../plan/plan.ts'
import { classCounts, classQuantile } from './class-counts.ts'
import type { PlaceRows, Rows, StepRows } from './rows.ts'

/**
 * The figures of one replication over the window from coarse block `cut` to the end.
 * Hours, wafers per hour, fractions. What cannot be said (a share of nothing) is undefined.
 */
export interface WindowFigures {
  readonly hours: number
  readonly goodPerHour: number
  readonly startedPerHour: number
  readonly turnedAwayPerHour: number
  readonly yield: number | undefined
  readonly efficiency: number | undefined
  readonly wip: number
  readonly stay: {
    readonly mean: number | undefined
    readonly median: number | undefined
    readonly p95: number | undefined
  }
  readonly steps: readonly StepWindow[]
  readonly places: readonly PlaceWindow[]
  /** Cells per class (bin and colour, see BinsPlan), as shares of those sorted. */
  readonly bins: readonly (number | undefined)[]
  /** Full boxes swapped, and tool-hours for which tools were held since an output had none for their cell. */
  readonly swapsPerDay: number
  readonly heldHoursPerDay: number
  /** Rejected for a hidden defect, by the step that made it; empty when no step can. */
  readonly originsPerDay: readonly number[]
}

export interface PlaceWindow {
  readonly wip: number
  readonly stayHours: number | undefined
  /** Carriers that wear: those that came back from cleaning, and in place of broken ones. */
  readonly wear?: { readonly cleanedPerDay: number; readonly replacedPerDay: number }
}

export interface StepWindow {
  readonly startsPerHour: number
  readonly passedPerHour: number
  /** Share of tool time, in the order of the state numbers. */
  readonly states: readonly number[]
  readonly availability: number | undefined
  readonly performance: number | undefined
  readonly quality: number | undefined
  readonly oee: number | undefined
  readonly broken: number | undefined
  readonly rejected: number | undefined
  readonly reworked: number | undefined
  /** Set-up wafers, which are not among the lost. */
  readonly setUp: number | undefined
  readonly lost: number | undefined
  readonly yield: number | undefined
  readonly wip: number
  /** Places of short loads filled with dummy wafers. */
  readonly dummiesPerDay: number
  readonly stops: readonly {
    readonly perDay: number
    readonly hoursPerDay: number
    readonly meanMinutes: number | undefined
    readonly lostPerDay: number
    /** Tool-hours of waiting for people, part of `hoursPerDay`. */
    readonly waitHoursPerDay: number
  }[]
  /** Per time limit, wafers per day: late, of them scrapped, and sent back. */
  readonly late: readonly { readonly late: number; readonly scrapped: number; readonly sentBack: number }[]
}

export function windowFigures(rows: Rows, cut: number): WindowFigures {
  const { coarse, coarseCount, horizon } = rows.blocks
  const ticks = horizon - cut * coarse
  const hours = ticks / TICKS_PER_HOUR
  const { line } = rows
  const count = (column: number) => gain(line.counters, COUNTERS, column, cut)
  const good = count(GOOD)
  const losses = count(BROKEN) + count(REJECTED) + count(LOST)
  const stays = classCounts(line.stays, STAYS, cut)
  const quantile = (p: number) => asHours(classQuantile(stays, STAYS, p))
  return {
    hours,
    goodPerHour: good / hours,
    startedPerHour: (line.started[line.started.length - 1] - line.started[cut * FINE_PER_COARSE]) / hours,
    turnedAwayPerHour: count(TURNED_AWAY) / hours,
    yield: ratio(good, good + losses),
    efficiency: ratio(count(EFFICIENCY_SUM), good),
    wip: gain(line.area, 1, 0, cut) / ticks,
    stay: { mean: asHours(ratio(count(STAY_SUM), good)), median: quantile(0.5), p95: quantile(0.95) },
    steps: rows.steps.map(step => stepWindow(step, coarseCount, cut, ticks)),
    places: rows.places.map(place => placeWindow(place, cut, ticks)),
    bins: binShares(line.bins, coarseCount, cut),
    swapsPerDay: (count(SWAPS) / hours) * 24,
    heldHoursPerDay: (count(HELD_TIME) / ticks) * 24,
    originsPerDay: originsPerDay(line.origins, coarseCount, cut, ticks),
  }
}

/** Growth of one column from row `cut` to the last. */
function gain(table: Float64Array, columns: number, column: number, cut: number): number {
  return table[table.length - columns + column] - table[cut * columns + column]
}

function ratio(part: number, whole: number): number | undefined {
  return whole > 0 ? part / whole : undefined
}

function asHours(ticks: number | undefined): number | undefined {
  return ticks === undefined ? undefined : ticks / TICKS_PER_HOUR
}

function placeWindow(place: PlaceRows, cut: number, ticks: number): PlaceWindow {
  const area = gain(place.area, 1, 0, cut)
  const perDay = (rows: Float64Array) => (gain(rows, 1, 0, cut) / ticks) * 24 * TICKS_PER_HOUR
  const { wear } = place
  return {
    wip: area / ticks,
    stayHours: asHours(ratio(area, gain(place.left, 1, 0, cut))),
    ...(wear && { wear: { cleanedPerDay: perDay(wear.cleaned), replacedPerDay: perDay(wear.replaced) } }),
  }
}

function binShares(bins: Float64Array, blocks: number, cut: number): (number | undefined)[] {
  const columns = bins.length / (blocks + 1)
  const counts = Array.from({ length: columns }, (_, bin) => gain(bins, columns, bin, cut))
  const total = counts.reduce((sum, n) => sum + n, 0)
  return counts.map(n => ratio(n, total))
}

function stepWindow(step: StepRows, blocks: number, cut: number, ticks: number): StepWindow {
  const hours = ticks / TICKS_PER_HOUR
  const count = (column: number) => gain(step.counters, COUNTERS, column, cut)
  const starts = count(STARTS)
  const passed = gain(step.passed, 1, 0, cut)
  const gone = count(BROKEN) + count(REJECTED) + count(LOST)
  const states = Array.from(
    { length: STATES },
    (_, state) => gain(step.states, STATES, state, cut) / (step.tools * ticks),
  )
  return {
    startsPerHour: starts / hours,
    passedPerHour: passed / hours,
    states,
    ...oee(states, count(IDEAL_TIME) / (step.tools * ticks), ratio(passed, passed + gone + count(REWORKED))),
    broken: ratio(count(BROKEN), starts),
    rejected: ratio(count(REJECTED), starts),
    reworked: ratio(count(REWORKED), starts),
    setUp: ratio(count(SET_UP), starts),
    lost: ratio(count(LOST) - count(SET_UP), starts),
    yield: ratio(passed, passed + gone),
    wip: gain(step.area, 1, 0, cut) / ticks,
    dummiesPerDay: (count(DUMMIES) / hours) * 24,
    stops: Array.from({ length: step.stopCount }, (_, stop) => stopWindow(step, stop, cut, ticks)),
    late: lateWindows(step, blocks, cut, ticks),
  }
}

/**
 * ISO 22400-2: availability = actual production time / planned busy time (the window
 * without non-scheduled time and scheduled downtime), performance (effectiveness) =
 * planned run time per piece x pieces / actual production time, quality = good / pieces.
 */
function oee(
  states: readonly number[],
  ideal: number,
  quality: number | undefined,
): Pick<StepWindow, 'availability' | 'performance' | 'quality' | 'oee'> {
  const availability = ratio(states[PRODUCTIVE], 1 - states[NON_SCHEDULED] - states[SCHEDULED_DOWN])
  const performance = ratio(ideal, states[PRODUCTIVE])
  const product =
    availability === undefined || performance === undefined || quality === undefined
      ? undefined
      : availability * performance * quality
  return { availability, performance, quality, oee: product }
}

function stopWindow(step: StepRows, stop: number, cut: number, ticks: number): StepWindow['stops'][number] {
  const columns = step.stopCount * STOP_COLUMNS
  const value = (column: number) => gain(step.stops, columns, stop * STOP_COLUMNS + column, cut)
  const days = ticks / (24 * TICKS_PER_HOUR)
  const hours = value(STOP_TIME) / TICKS_PER_HOUR
  const mean = ratio(hours * 60, value(STOP_COUNT))
  return {
    perDay: value(STOP_COUNT) / days,
    hoursPerDay: hours / days,
    meanMinutes: mean,
    lostPerDay: value(STOP_LOST) / days,
    waitHoursPerDay: value(STOP_WAIT) / TICKS_PER_HOUR / days,
  }
}

function lateWindows(step: StepRows, blocks: number, cut: number, ticks: number): StepWindow['late'] {
  const columns = step.late.length / (blocks + 1)
  const days = ticks / (24 * TICKS_PER_HOUR)
  return Array.from({ length: columns / LATE_COLUMNS }, (_, limit) => {
    const value = (column: number) => gain(step.late, columns, limit * LATE_COLUMNS + column, cut) / days
    return { late: value(LATE_COUNT), scrapped: value(LATE_SCRAPPED), sentBack: value(LATE_BACK) }
  })
}

/** Wafers per day that tests have rejected for a hidden defect, by the step that made it. */
function originsPerDay(origins: Float64Array, blocks: number, cut: number, ticks: number): number[] {
  const columns = origins.length / (blocks + 1)
  const days = ticks / (24 * TICKS_PER_HOUR)
  return Array.from({ length: columns }, (_, step) => gain(origins, columns, step, cut) / days)
}
