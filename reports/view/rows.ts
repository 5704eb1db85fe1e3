import type { Estimate } from '../../sim/stats/estimate.ts'
import type {
  BinFigures,
  PlaceFigures,
  RunStudy,
  StateShares,
  StepFigures,
  StopFigures,
} from '../../sim/study/run-study.ts'
import {
  amount,
  COUNTED,
  type Figure,
  grouped,
  halfWidth,
  NOTHING,
  PARTS,
  percent,
  type Show,
  significant,
} from './format.ts'

/** One step in words. States, yield and losses in per cent, rates in wafers/h. */
export interface StepRow {
  readonly name: string
  readonly kind: StepFigures['kind']
  readonly tools: string
  readonly started: Figure
  readonly passed: Figure
  /** Static rate: net of stops, neighbours ignored. */
  readonly paper: string
  readonly states: Readonly<Record<keyof StateShares, Figure>>
  /** Unscheduled, waiting for the crew, scheduled and engineering together. */
  readonly down: string
  /** Broken, rejected, set-up wafers, lost to stops and too late together, of the wafers that the step passed on or lost. */
  readonly lost: string
  readonly broken: Figure
  readonly rejected: Figure
  readonly reworked: Figure
  readonly yield: Figure
  readonly oee: Readonly<Record<'availability' | 'performance' | 'quality' | 'oee', Figure>>
  /** Wafers on its tools. */
  readonly wip: Figure
}

/** One kind of stop of one step. */
export interface StopRow {
  readonly step: string
  readonly stop: string
  readonly kind: StopFigures['kind']
  readonly perDay: Figure
  /** Tool-hours down per day. */
  readonly hoursPerDay: Figure
  readonly meanMinutes: Figure
  readonly longestMinutes: string
  readonly lostPerDay: Figure
}

/** A place where wafers are: stays in hours. */
export interface PlaceRow {
  readonly name: string
  readonly kind: PlaceFigures['kind']
  readonly capacity: string
  readonly wip: Figure
  readonly stayHours: Figure
}

/** One efficiency bin; share in per cent of the cells tested good. */
export interface BinRow {
  readonly bin: string
  readonly range: string
  readonly share: Figure
}

/** Rates of steps keep as many digits as the output in the first line, so that the two can be compared. */
const RATE: Show = { digits: 2, most: 1 }

/** All steps in the order of the route. */
export function stepRows(study: RunStudy): StepRow[] {
  return study.steps.map(stepRow)
}

/** All stops that happened, the one with the most tool-hours first; closing hours are none. */
export function stopRows(study: RunStudy): StopRow[] {
  const found = study.steps.flatMap(step => step.stops.map(stop => ({ step: step.name, stop })))
  return found
    .filter(({ stop }) => stop.perDay.mean > 0 && stop.kind !== 'closed')
    .sort((a, b) => b.stop.hoursPerDay.mean - a.stop.hoursPerDay.mean)
    .map(({ step, stop }) => ({
      step,
      stop: stop.stop,
      kind: stop.kind,
      perDay: amount(stop.perDay, COUNTED),
      hoursPerDay: amount(stop.hoursPerDay, COUNTED),
      meanMinutes: amount(stop.meanMinutes, COUNTED),
      longestMinutes: significant(stop.longestMinutes, 3),
      lostPerDay: amount(stop.lostPerDay, COUNTED),
    }))
}

/** All places in the order of the route. */
export function placeRows(study: RunStudy): PlaceRow[] {
  return study.places.map(place => ({
    name: place.name,
    kind: place.kind,
    capacity: place.capacity === undefined ? NOTHING : grouped(place.capacity, 0),
    wip: amount(place.wip),
    stayHours: amount(place.stayHours),
  }))
}

/** All bins, the box below the lowest first. */
export function binRows(study: RunStudy): BinRow[] {
  return study.bins.map(bin => ({
    bin: bin.bin === 0 ? 'below' : String(bin.bin),
    range: binRange(bin),
    share: percent(bin.share),
  }))
}

/** A sum of shares, rounded to the widest interval among its parts, to whole per cents at least: the interval of the sum is not known. */
export function percentOfSum(parts: readonly Estimate[]): string {
  const mean = parts.reduce((sum, part) => sum + part.mean, 0)
  const widths = parts.map(halfWidth).filter(Number.isFinite)
  if (widths.length === 0) return percent({ mean, n: 1 }).text
  const half = Math.max(...widths)
  return percent({ mean, low: mean - half, high: mean + half, n: 2 }, PARTS).text
}

/** The rest to one of a share. */
function complement({ mean, low, high, n }: Estimate): Estimate {
  if (low === undefined || high === undefined) return { mean: 1 - mean, n }
  return { mean: 1 - mean, low: 1 - high, high: 1 - low, n }
}

function stepRow(step: StepFigures): StepRow {
  const { states } = step
  return {
    name: step.name,
    kind: step.kind,
    tools: grouped(step.tools, 0),
    started: amount(step.startsPerHour, RATE),
    passed: amount(step.passedPerHour, RATE),
    paper: significant(step.staticPerHour, 4),
    states: {
      productive: percent(states.productive, PARTS),
      starved: percent(states.starved, PARTS),
      blocked: percent(states.blocked, PARTS),
      engineering: percent(states.engineering, PARTS),
      scheduledDown: percent(states.scheduledDown, PARTS),
      unscheduledDown: percent(states.unscheduledDown, PARTS),
      waitingForCrew: percent(states.waitingForCrew, PARTS),
      nonScheduled: percent(states.nonScheduled, PARTS),
    },
    down: percentOfSum([
      states.unscheduledDown,
      states.waitingForCrew,
      states.scheduledDown,
      states.engineering,
    ]),
    lost: percent(complement(step.yield)).text,
    broken: percent(step.broken, { most: 3 }),
    rejected: percent(step.rejected, { most: 3 }),
    reworked: percent(step.reworked, { most: 3 }),
    yield: percent(step.yield, { most: 3 }),
    oee: {
      availability: percent(step.oee.availability),
      performance: percent(step.oee.performance),
      quality: percent(step.oee.quality),
      oee: percent(step.oee.oee),
    },
    wip: amount(step.wip),
  }
}

function binRange({ from, to }: BinFigures): string {
  const edge = (share: number) => `${significant(share * 100, 5)} %`
  if (from === undefined) return to === undefined ? 'all' : `below ${edge(to)}`
  return to === undefined ? `from ${edge(from)}` : `${edge(from)} to ${edge(to)}`
}
