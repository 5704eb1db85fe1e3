import { quantile } from '../../sim/chance/law.ts'
import type { Estimate } from '../../sim/stats/estimate.ts'
import { studentFactor } from '../../sim/stats/student.ts'
import type { Oee, PlaceFigures, RunStudy, StateShares, StepFigures } from '../../sim/study/run-study.ts'
import { type Figure, HALF_PERCENT, SHARE_OF_TIME } from './check.ts'

/**
 * Figures of a study in the units of the sources. Their time unit is a minute of
 * simulated time unless said otherwise: long against the microsecond of the clock, so
 * that rounding is no matter (1e-8 of the mean).
 */
export type TimeUnit = 'minute' | 'hour'

const MINUTES_PER_DAY = 1440

const PER_HOUR: Record<TimeUnit, number> = { minute: 60, hour: 1 }

/** The same figures with another wanted half-width. */
export function within(share: number, figures: readonly Figure[]): Figure[] {
  return figures.map(figure => ({ ...figure, within: share }))
}

function figure(name: string, expected: number, read: Figure['read']): Figure {
  return { name, expected, within: HALF_PERCENT, read }
}

/** Good wafers out per time unit. */
export function throughput(expected: number, unit: TimeUnit = 'minute'): Figure {
  return figure('throughput', expected, study => times(1 / PER_HOUR[unit], study.goodOutput.perHour))
}

/** Wafers in the line, time average. */
export function inLine(expected: number): Figure {
  return figure('wafers in the line', expected, study => study.wip)
}

/** Mean time in the line. */
export function timeInLine(expected: number): Figure {
  return figure('time in the line', expected, study => times(PER_HOUR.minute, study.throughputHours.mean))
}

export function medianTimeInLine(expected: number): Figure {
  return figure('time in the line, median', expected, study =>
    times(PER_HOUR.minute, study.throughputHours.median),
  )
}

export function p95TimeInLine(expected: number): Figure {
  return figure('time in the line, 95 %', expected, study =>
    times(PER_HOUR.minute, study.throughputHours.p95),
  )
}

/** Wafers in a buffer, time average. */
export function inBuffer(buffer: string, expected: number): Figure {
  return figure(`wafers in ${buffer}`, expected, study => placeOf(study, buffer).wip)
}

/** Mean time in a buffer. */
export function timeInBuffer(buffer: string, expected: number): Figure {
  return figure(`time in ${buffer}`, expected, study =>
    times(PER_HOUR.minute, placeOf(study, buffer).stayHours),
  )
}

const STATE_WORDS = {
  productive: 'working',
  starved: 'starved',
  blocked: 'blocked',
  unscheduledDown: 'down',
  scheduledDown: 'down as planned',
  waitingForCrew: 'waiting for the crew',
} as const satisfies Partial<Record<keyof StateShares, string>>

/** Share of time of the tools of a step in a state. */
export function share(step: string, state: keyof typeof STATE_WORDS, expected: number): Figure {
  const name = `${step} ${STATE_WORDS[state]}`
  const read = (study: RunStudy) => stepOf(study, step).states[state]
  const within = expected > 0 ? Math.max(HALF_PERCENT, SHARE_OF_TIME / expected) : SHARE_OF_TIME
  return { name, expected, within, read }
}

/** A ratio of ISO 22400-2 of a step, or their product. */
export function equipment(step: string, ratio: keyof Oee, expected: number): Figure {
  return figure(`${ratio} of ${step}`, expected, study => stepOf(study, step).oee[ratio])
}

/** Work / presence of the only crew. */
export function crewUtilisation(expected: number): Figure {
  return figure('utilisation of the crew', expected, study => study.crews[0].utilisation)
}

/** Mean time from a call until somebody is there. */
export function waitForCrew(expected: number): Figure {
  return figure('wait for the crew', expected, study => study.crews[0].waitMinutes)
}

/** 95 % of the calls wait no longer. */
export function p95WaitForCrew(expected: number): Figure {
  return figure('wait for the crew, 95 %', expected, study => study.crews[0].waitMinutesP95)
}

/** Calls for the only crew per minute. */
export function calls(expected: number): Figure {
  return figure('calls of the crew', expected, study =>
    times(1 / MINUTES_PER_DAY, study.crews[0].callsPerDay),
  )
}

/** Starts of service per minute, rework included. */
export function starts(step: string, expected: number, unit: TimeUnit = 'minute'): Figure {
  return figure(`starts at ${step}`, expected, study =>
    times(1 / PER_HOUR[unit], stepOf(study, step).startsPerHour),
  )
}

/** Share of the arrivals that are turned away, `arriving` per minute. */
export function turnedAway(arriving: number, expected: number): Figure {
  return figure('share turned away', expected, study =>
    times(1 / (PER_HOUR.minute * arriving), study.turnedAwayPerHour),
  )
}

/** Share of the cells in a bin; 0 is the box below the lowest. */
export function inBin(bin: number, expected: number): Figure {
  return figure(`share in bin ${bin}`, expected, study => study.bins[bin].share)
}

/** Share of what came in that leaves the line as good. */
export function goodShare(expected: number): Figure {
  return figure('yield of the line', expected, study => study.yield)
}

/** Mean efficiency of the good cells, fraction. */
export function efficiency(expected: number): Figure {
  return figure('mean efficiency', expected, study => study.goodOutput.efficiency ?? { mean: 0, n: 0 })
}

/** Half-width that some hundred runs give for a standard deviation. */
const SPREAD_WITHIN = 0.12

/**
 * Standard deviation of the mean efficiency of one run, over the runs (n - 1), with its
 * chi-square interval (Cochran 1934) at the level of the study.
 */
export function spreadOfMeanEfficiency(expected: number): Figure {
  const read = (study: RunStudy): Estimate => {
    const { mean, high = mean, n = 0 } = study.goodOutput.efficiency ?? { mean: 0, n: 0 }
    const degrees = n - 1
    const sd = ((high - mean) * Math.sqrt(n)) / studentFactor(study.level, degrees)
    const chiSquare = { kind: 'gamma', mean: degrees, cv: Math.sqrt(2 / degrees) } as const
    const end = (p: number) => sd * Math.sqrt(degrees / quantile(chiSquare, p))
    return { mean: sd, low: end((1 + study.level) / 2), high: end((1 - study.level) / 2), n }
  }
  return { name: 'spread of mean efficiency', expected, within: SPREAD_WITHIN, read }
}

function stepOf(study: RunStudy, name: string): StepFigures {
  return found(study.steps, name)
}

function placeOf(study: RunStudy, name: string): PlaceFigures {
  return found(
    study.places.filter(place => place.kind !== 'step'),
    name,
  )
}

function found<T extends { readonly name: string }>(all: readonly T[], name: string): T {
  const one = all.find(candidate => candidate.name === name)
  if (!one) throw new Error(`the study has no "${name}"`)
  return one
}

function times(factor: number, { mean, low, high, n }: Estimate): Estimate {
  if (low === undefined || high === undefined) return { mean: mean * factor, n }
  return { mean: mean * factor, low: low * factor, high: high * factor, n }
}
