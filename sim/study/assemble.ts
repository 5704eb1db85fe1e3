import {
  BLOCKED,
  ENGINEERING,
  NON_SCHEDULED,
  PRODUCTIVE,
  SCHEDULED_DOWN,
  STARVED,
  STATES,
  UNSCHEDULED_DOWN,
  WAITING_FOR_CREW,
} from '../engine/meter.ts'
import type { CapacityRow } from '../line/capacity.ts'
import { OWN_STOPS } from '../line/reserved-names.ts'
import type { Rows } from '../measure/rows.ts'
import type { StepWindow, WindowFigures } from '../measure/window.ts'
import { extraStops } from '../plan/extra-stops.ts'
import type { Plan, StationPlan } from '../plan/plan.ts'
import { TICKS_PER_HOUR } from '../plan/plan.ts'
import { type Estimate, estimate } from '../stats/estimate.ts'
import { estimateWithin } from '../stats/resolution.ts'
import { pilesUpBehind } from './piles.ts'
import type { AuditFigures, PlaceFigures, RunStudy, StepFigures, StopFigures } from './run-study.ts'

/**
 * Estimate over the replications in which the figure can be said; n = 0 when in none. All figures of
 * a run are counts, times, wafers and shares: no interval goes below zero.
 *
 * @param finest by how much the figure of one run changes with one event more or less: no interval is narrower
 */
export function estimateOf(values: readonly (number | undefined)[], level: number, finest = 0): Estimate {
  const known = values.filter(value => value !== undefined)
  if (known.length === 0) return { mean: 0, n: 0 }
  const { mean, low, high, n } = finest > 0 ? estimateWithin(known, level, finest) : estimate(known, level)
  return low === undefined || high === undefined ? { mean, n } : { mean, low: Math.max(0, low), high, n }
}

/** Takes one figure out of every replication's window. */
type Over<T> = (figure: (window: T) => number | undefined, finest?: number) => Estimate

function over<T>(windows: readonly T[], level: number): Over<T> {
  return (figure, finest) => estimateOf(windows.map(figure), level, finest)
}

/** What the step could do on paper over all hours [wafers/h]. */
function onPaper(row: CapacityRow | undefined): number {
  return row === undefined ? 0 : row.netPerHour * row.openShare
}

export function stepFigures(
  plan: Plan,
  windows: readonly WindowFigures[],
  rows: readonly Rows[],
  capacity: readonly CapacityRow[],
  cut: number,
  level: number,
): StepFigures[] {
  const good = windows.reduce((sum, { goodPerHour }) => sum + goodPerHour, 0) / windows.length
  return plan.steps.map((name, index) => {
    const station = plan.stations.find(s => s.step === index) as Extract<StationPlan, { outcome: unknown }>
    const of = over(
      windows.map(window => window.steps[index]),
      level,
    )
    const pilesUpPerHour = pilesUpBehind(plan, index, rows, cut, level, good)
    return {
      name,
      kind: station.kind,
      tools: rows[0].steps[index].tools,
      startsPerHour: of(w => w.startsPerHour),
      passedPerHour: of(w => w.passedPerHour),
      staticPerHour: onPaper(capacity.find(row => row.step === name)),
      states: stateShares(of),
      oee: {
        availability: of(w => w.availability),
        performance: of(w => w.performance),
        quality: of(w => w.quality),
        oee: of(w => w.oee),
      },
      broken: of(w => w.broken),
      rejected: of(w => w.rejected),
      reworked: of(w => w.reworked),
      setUp: of(w => w.setUp),
      lost: of(w => w.lost),
      yield: of(w => w.yield),
      wip: of(w => w.wip),
      ...(pilesUpPerHour && { pilesUpPerHour }),
      ...dummyFigures(station, of),
      stops: stopFigures(
        station,
        of,
        rows.map(r => r.steps[index].longest),
        windows[0].hours,
      ),
      each: toolShares(
        plan,
        index,
        rows.map(r => r.steps[index].each),
        rows[0].blocks.coarseCount,
        cut,
      ),
    }
  })
}

function dummyFigures(station: StationPlan, of: Over<StepWindow>): Pick<StepFigures, 'dummies'> {
  const runs = station.kind === 'batch' ? station.dummyRuns : undefined
  if (runs === undefined) return {}
  return {
    dummies: {
      placesPerDay: of(w => w.dummiesPerDay),
      wornOutPerDay: of(w => w.dummiesPerDay / runs),
    },
  }
}

/** Shares of each tool of a step from coarse block `cut` on, mean over replications. */
function toolShares(
  plan: Plan,
  step: number,
  each: readonly Float64Array[],
  blocks: number,
  cut: number,
): StepFigures['each'] {
  const stations = plan.stations.filter(s => s.step === step && 'outcome' in s)
  const width = each[0].length / (blocks + 1)
  const share = (column: number) => {
    const times = each.map(rows => rows[blocks * width + column] - rows[cut * width + column])
    return times.reduce((sum, time) => sum + time, 0)
  }
  let column = -STATES
  return stations.flatMap(station =>
    Array.from({ length: 'tools' in station ? station.tools : 0 }, (_, tool) => {
      column += STATES
      const times = Array.from({ length: STATES }, (_, state) => share(column + state))
      const total = times.reduce((sum, time) => sum + time, 0)
      const of = (state: number) => times[state] / total
      return { station: station.name, tool: tool + 1, shares: byState(of) }
    }),
  )
}

function stateShares(of: Over<StepWindow>): StepFigures['states'] {
  return byState(state => of(w => w.states[state]))
}

function byState<T>(of: (state: number) => T): Record<keyof StepFigures['states'], T> {
  return {
    productive: of(PRODUCTIVE),
    starved: of(STARVED),
    blocked: of(BLOCKED),
    engineering: of(ENGINEERING),
    scheduledDown: of(SCHEDULED_DOWN),
    unscheduledDown: of(UNSCHEDULED_DOWN),
    waitingForCrew: of(WAITING_FOR_CREW),
    nonScheduled: of(NON_SCHEDULED),
  }
}

/** A stop more or less in a run, which the edges of the window let in or not, is no difference between runs that begin alike. */
function stopFigures(
  station: Extract<StationPlan, { outcome: unknown }>,
  of: Over<StepWindow>,
  longest: readonly Float64Array[],
  windowHours: number,
): StopFigures[] {
  const extra = extraStops(station).map(name => ({
    name: OWN_STOPS[name],
    kind: name === 'clearing' ? ('unscheduled' as const) : ('scheduled' as const),
  }))
  const one = 24 / windowHours
  return [...station.stops, ...extra].map(({ name, kind }, s) => {
    const meanMinutes = of(w => w.stops[s].meanMinutes)
    return {
      stop: name,
      kind,
      perDay: of(w => w.stops[s].perDay, one),
      hoursPerDay: of(w => w.stops[s].hoursPerDay, (one * meanMinutes.mean) / 60),
      meanMinutes,
      longestMinutes: Math.max(...longest.map(l => l[s])) / (TICKS_PER_HOUR / 60),
      lostPerDay: of(w => w.stops[s].lostPerDay),
      waitHoursPerDay: of(w => w.stops[s].waitHoursPerDay),
    }
  })
}

/** Every place that can hold wafers; the gate outside the line is none of them. */
export function placeFigures(plan: Plan, windows: readonly WindowFigures[], level: number): PlaceFigures[] {
  return placesInside(plan).map(index => {
    const { name, kind, capacity } = plan.places[index]
    const of = over(windows, level)
    return {
      name,
      kind,
      ...(kind !== 'step' && capacity < Infinity && { capacity }),
      wip: of(w => w.places[index].wip),
      stayHours: of(w => w.places[index].stayHours),
      ...(windows[0].places[index].wear && {
        wear: {
          cleanedPerDay: of(w => w.places[index].wear?.cleanedPerDay),
          replacedPerDay: of(w => w.places[index].wear?.replacedPerDay),
        },
      }),
    }
  })
}

function placesInside(plan: Plan): number[] {
  return plan.places.flatMap((place, index) => (place.kind === 'gate' ? [] : [index]))
}

/** Course over the run, mean over replications, one point per fine block. */
export function series(plan: Plan, rows: readonly Rows[]): RunStudy['series'] {
  const { fine, fineCount } = rows[0].blocks
  const blockHours = fine / TICKS_PER_HOUR
  const blocks = Array.from({ length: fineCount }, (_, block) => block)
  const meanOver = (value: (r: Rows) => number) => rows.reduce((sum, r) => sum + value(r), 0) / rows.length
  const placeWip = placesInside(plan).map(place =>
    blocks.map(b => meanOver(r => r.places[place].level[b + 1])),
  )
  return {
    hours: blocks.map(b => (b + 1) * blockHours),
    goodPerHour: blocks.map(b => meanOver(r => r.line.good[b + 1] - r.line.good[b]) / blockHours),
    wip: blocks.map(b => placeWip.reduce((sum, place) => sum + place[b], 0)),
    placeWip,
  }
}

export function auditFigures(rows: readonly Rows[]): AuditFigures {
  const sum = (column: 'wafersIn' | 'good' | 'broken' | 'rejected' | 'lost' | 'inside') =>
    rows.reduce((total, { audit }) => total + audit[column], 0)
  const faults = rows.flatMap(({ audit }, index) =>
    audit.faults.map(fault => `replication ${index + 1}: ${fault}`),
  )
  return {
    wafersIn: sum('wafersIn'),
    good: sum('good'),
    broken: sum('broken'),
    rejected: sum('rejected'),
    lost: sum('lost'),
    inside: sum('inside'),
    littleGap: Math.max(...rows.map(({ audit }) => audit.littleGap)),
    passed: faults.length === 0,
    faults,
  }
}
