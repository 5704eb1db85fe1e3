import { type Audit, audit } from '../engine/audit.ts'
import { type Blocks, FINE_PER_COARSE } from '../engine/blocks.ts'
import { STAYS } from '../engine/classes.ts'
import { Desk } from '../engine/desk.ts'
import {
  CLEANED,
  COUNTERS,
  GOOD,
  LATE_COLUMNS,
  type Meter,
  REPLACED,
  STATES,
  STOP_COLUMNS,
} from '../engine/meter.ts'
import type { Run } from '../engine/run.ts'
import { classesOf } from '../plan/bins-plan.ts'
import { type Plan, TICKS_PER_DAY, TICKS_PER_WEEK } from '../plan/plan.ts'
import {
  addFlow,
  coarseArea,
  emptyBook,
  foldChannels,
  foldStations,
  type PlaceBook,
  placeRows,
} from './place-books.ts'
import type { PlaceRows } from './place-rows.ts'

export type { PlaceRows } from './place-rows.ts'

import type { ActiveRows } from './active.ts'

/**
 * What one replication leaves behind: cumulative books by block, folded from stations to
 * steps, places and the line, so that any window from a block edge to the end can be read
 * off. Times in ticks. Row b is the state at the end of block b - 1.
 */
export interface Rows {
  readonly steps: readonly StepRows[]
  readonly places: readonly PlaceRows[]
  readonly line: LineRows
  readonly blocks: Blocks
  /** A warm-up is cut by so many coarse blocks at a time, so that whole weeks or days are left where only those are alike; 0: nothing can be cut so. */
  readonly cutBy: number
  /** Hours differ by the clock. */
  readonly patterned: boolean
  readonly waferSteps: number
  /** Work and waits of the people, not cumulative; undefined when nobody is called. */
  readonly people: PeopleRows | undefined
  readonly audit: Audit
  /** Why the line came to rest, when it did. */
  readonly rest: Rest | undefined
  /** Momentary constraints; only when the job asks for them. */
  readonly active?: ActiveRows
}

/** By coarse block, see CrewBook. */
export interface PeopleRows {
  readonly work: Float64Array
  readonly calls: Float64Array
  readonly waited: Float64Array
  readonly waits: Uint32Array
}

export interface Rest {
  /** Tick from which nothing moved. */
  readonly from: number
  /** Every wafer of the feed has come. */
  readonly fed: boolean
  /** Per station that holds something back: who waits for what, with how many wafers. */
  readonly waits: readonly string[]
  /** Skills that are called for and that nobody comes with. */
  readonly missed: readonly string[]
}

export interface StepRows {
  readonly tools: number
  /** Coarse rows, STATES columns: tool time in each state. */
  readonly states: Float64Array
  /** The same of each tool by itself, station after station: STATES columns per tool. */
  readonly each: Float64Array
  /** Coarse rows, COUNTERS columns. */
  readonly counters: Float64Array
  /** Coarse rows: wafers taken in, passed on (or out of the line as good), area of wafers inside. */
  readonly taken: Float64Array
  readonly passed: Float64Array
  readonly area: Float64Array
  /** Coarse rows, STOP_COLUMNS columns per stop of the plan (and one more for clearing). */
  readonly stops: Float64Array
  readonly longest: Float64Array
  readonly stopCount: number
  /** Coarse rows, LATE_COLUMNS columns per time limit. */
  readonly late: Float64Array
}

export interface LineRows {
  /** Fine rows: good wafers out, wafers in. */
  readonly good: Float64Array
  readonly started: Float64Array
  /** Coarse rows. */
  readonly counters: Float64Array
  readonly area: Float64Array
  /** A column per class of cells, see BinsPlan. */
  readonly bins: Float64Array
  /** Coarse rows, a column per step: wafers that tests have rejected for a hidden defect made there; empty when none can be. */
  readonly origins: Float64Array
  /** Coarse blocks x classes of stay. */
  readonly stays: Uint32Array
}

/** Folds the books of a finished run. */
export function rowsOf(plan: Plan, run: Run): Rows {
  const meters = run.works.stations.map(station => station.meter)
  const { blocks } = run
  const books = plan.places.map(() => emptyBook(blocks))
  foldChannels(plan, meters, books)
  foldStations(plan, meters, books)
  const places = books.map((book, place) => ({
    ...placeRows(book, blocks.fine),
    ...carrierWear(plan, meters, place),
  }))
  return {
    steps: plan.steps.map((_, step) => stepRows(plan, meters, step, blocks)),
    places,
    line: lineRows(plan, meters, places, blocks),
    blocks,
    cutBy: cutBy(plan.alike, blocks),
    patterned: plan.alike !== undefined,
    waferSteps: run.waferSteps(),
    people: peopleRows(run),
    audit: audit(run),
    rest: restOf(run),
  }
}

/**
 * Coarse blocks by which a warm-up is cut, so that what is measured is whole weeks or days
 * where only those are alike; 0: more than half of the run. Where one day is not like another
 * and the run is no whole weeks, whole days are as good as can be; any number in one of no
 * whole days.
 */
function cutBy(alike: Plan['alike'], { coarse, coarseCount, horizon }: Blocks): number {
  if (alike === undefined || horizon % TICKS_PER_DAY !== 0) return 1
  const unit = alike === 'week' && horizon % TICKS_PER_WEEK === 0 ? TICKS_PER_WEEK : TICKS_PER_DAY
  for (let blocks = 1; blocks <= coarseCount / 2; blocks++) if ((blocks * coarse) % unit === 0) return blocks
  return 0
}

/** What became of the carriers of a place, all lanes together. */
function carrierWear(plan: Plan, meters: readonly Meter[], place: number): Pick<PlaceRows, 'wear'> {
  const worn = meters.filter((_, s) => {
    const station = plan.stations[s]
    return station.kind === 'carriers' && station.place === place && (station.cleaning || station.breakage)
  })
  if (worn.length === 0) return {}
  const sum = (counter: number) =>
    Float64Array.from({ length: meters[0].blocks.coarseCount + 1 }, (_, row) =>
      worn.reduce((total, meter) => total + meter.counterRows[row * COUNTERS + counter], 0),
    )
  return { wear: { cleaned: sum(CLEANED), replaced: sum(REPLACED) } }
}

function peopleRows(run: Run): PeopleRows | undefined {
  const desk = run.works.stations.find(station => station instanceof Desk)
  if (!desk) return undefined
  const { work, calls, waited, waits } = desk.book
  return { work, calls, waited, waits }
}

function stepRows(plan: Plan, meters: readonly Meter[], step: number, blocks: Blocks): StepRows {
  const coarseRows = blocks.coarseCount + 1
  const members = plan.stations.flatMap((station, s) =>
    station.step === step && 'outcome' in station ? [{ station, meter: meters[s] }] : [],
  )
  const stopCount = Math.max(...members.map(({ meter }) => meter.shape.stops))
  const tools = members.reduce((sum, { station }) => sum + station.tools, 0)
  const rows = {
    tools,
    states: new Float64Array(coarseRows * STATES),
    each: eachTool(members, coarseRows, tools * STATES),
    counters: new Float64Array(coarseRows * COUNTERS),
    taken: new Float64Array(coarseRows),
    passed: new Float64Array(coarseRows),
    stops: new Float64Array(coarseRows * STOP_COLUMNS * stopCount),
    longest: new Float64Array(stopCount),
    stopCount,
    late: new Float64Array(coarseRows * LATE_COLUMNS * members[0].meter.shape.timeLimits),
  }
  const book = emptyBook(blocks)
  for (const { station, meter } of members) {
    foldStates(rows.states, meter)
    addAll(rows.counters, meter.counterRows)
    addAll(rows.stops, meter.stopRows)
    addAll(rows.late, meter.lateRows)
    for (let s = 0; s < stopCount; s++) rows.longest[s] = Math.max(rows.longest[s], meter.longest[s])
    foldPassage(rows, book, meter, station.inputs.length, station.outputs.length)
  }
  return { ...rows, area: coarseArea(book.level, book.area, blocks.fine) }
}

/** The columns of all stations of a step side by side. */
function eachTool(members: readonly { readonly meter: Meter }[], rows: number, width: number): Float64Array {
  const each = new Float64Array(rows * width)
  let from = 0
  for (const { meter } of members) {
    const own = meter.state.length
    for (let row = 0; row < rows; row++)
      each.set(meter.stateRows.subarray(row * own, (row + 1) * own), row * width + from)
    from += own
  }
  return each
}

function foldStates(states: Float64Array, meter: Meter): void {
  const width = meter.shape.tools * STATES
  for (let row = 0; row * STATES < states.length; row++)
    for (let i = 0; i < width; i++) states[row * STATES + (i % STATES)] += meter.stateRows[row * width + i]
}

function foldPassage(
  rows: Pick<StepRows, 'taken' | 'passed'>,
  book: PlaceBook,
  meter: Meter,
  inputs: number,
  mains: number,
): void {
  const { flows } = meter.shape
  for (let f = 0; f < flows; f++) addFlow(book, meter, f, f < inputs ? 1 : -1)
  for (let row = 0; row < rows.taken.length; row++) {
    const counts = meter.countRows.subarray(row * FINE_PER_COARSE * flows)
    for (let f = 0; f < inputs; f++) rows.taken[row] += counts[f]
    for (let f = inputs; f < inputs + mains; f++) rows.passed[row] += counts[f]
    rows.passed[row] += meter.counterRows[row * COUNTERS + GOOD]
  }
}

function addAll(sum: Float64Array, more: Float64Array): void {
  for (let i = 0; i < more.length; i++) sum[i] += more[i]
}

function lineRows(
  plan: Plan,
  meters: readonly Meter[],
  places: readonly PlaceRows[],
  { coarseCount, fineCount }: Blocks,
): LineRows {
  const coarseRows = coarseCount + 1
  const line = {
    good: new Float64Array(fineCount + 1),
    started: new Float64Array(fineCount + 1),
    counters: new Float64Array(coarseRows * COUNTERS),
    area: new Float64Array(coarseRows),
    bins: new Float64Array(plan.bins ? coarseRows * classesOf(plan.bins) : 0),
    origins: new Float64Array(plan.marks ? coarseRows * plan.steps.length : 0),
    stays: new Uint32Array(coarseCount * STAYS.count),
  }
  for (const place of places) addAll(line.area, place.area)
  for (const meter of meters) {
    addAll(line.counters, meter.counterRows)
    if (meter.shape.bins > 0) addAll(line.bins, meter.binRows)
    if (meter.shape.origins > 0) addAll(line.origins, meter.originRows)
    for (let i = 0; i < meter.stays.length; i++) line.stays[i] += meter.stays[i]
  }
  foldEnds(plan, meters, line)
  return line
}

/** Wafers in and good wafers out, per fine block. */
function foldEnds(plan: Plan, meters: readonly Meter[], line: LineRows): void {
  plan.stations.forEach((station, s) => {
    const { flows } = meters[s].shape
    const taken = station.inputs.findIndex(c => plan.channels[c].outside)
    const entry = station.kind === 'feed' && !plan.channels[station.outputs[0]].outside ? 0 : taken
    for (let row = 0; row < line.good.length; row++) {
      line.good[row] += meters[s].goodRows[row]
      if (entry >= 0) line.started[row] += meters[s].countRows[row * flows + entry]
    }
  })
}

function restOf(run: Run): Rest | undefined {
  if (run.restsFrom === Infinity) return undefined
  const waits = run.works.stations.flatMap(station => {
    const inside = station.inside().length
    const before = station.inputs.reduce((sum, input) => sum + input.inside().length, 0)
    return inside + before > 0
      ? [`${station.name} (${inside} inside, ${before} before it) waits for ${station.waitsFor()}`]
      : []
  })
  const desks = run.works.stations.filter(station => station instanceof Desk)
  return { from: run.restsFrom, fed: run.fed(), waits, missed: desks.flatMap(desk => desk.skillsCalled()) }
}
