import type { CrewFigures, RunStudy } from '../../sim/study/run-study.ts'
import { amount, COUNTED, type Figure, percent, timeText, WAITS } from './format.ts'

/** A crew or a fleet in words: shares in per cent, waits in minutes. */
export interface CrewRow {
  readonly name: string
  readonly kind: CrewFigures['kind']
  readonly utilisation: Figure
  /** By shift, as `early 62 %, late 71 %`; empty when there is one shift only. */
  readonly byShift: string
  readonly callsPerDay: Figure
  /** From the call until people are there. */
  readonly waitMinutes: Figure
  readonly waitMinutesP95: Figure
}

/** A time limit and what came of it. */
export interface TimeLimitRow {
  readonly step: string
  readonly after: string
  /** With its unit. */
  readonly limit: string
  readonly latePerDay: Figure
  readonly scrappedPerDay: Figure
  readonly sentBackPerDay: Figure
}

/** Rejects of the tests that an earlier step made. */
export interface HiddenDefectRow {
  readonly made: string
  readonly rejectedPerDay: Figure
}

export function crewRows(study: RunStudy): CrewRow[] {
  return study.crews.map(crew => ({
    name: crew.name,
    kind: crew.kind,
    utilisation: percent(crew.utilisation),
    byShift: shiftsOf(crew),
    callsPerDay: amount(crew.callsPerDay, COUNTED),
    waitMinutes: amount(crew.waitMinutes, WAITS),
    waitMinutesP95: amount(crew.waitMinutesP95, WAITS),
  }))
}

function shiftsOf({ byShift }: CrewFigures): string {
  if (byShift.length < 2) return ''
  return byShift
    .filter(({ heads }) => heads > 0)
    .map(({ shift, utilisation }) => `${shift} ${percent(utilisation).text} %`)
    .join(', ')
}

export function timeLimitRows(study: RunStudy): TimeLimitRow[] {
  return study.losses.timeLimits.map(limit => ({
    step: limit.step,
    after: limit.after,
    limit: timeText(limit.limitMinutes / 60),
    latePerDay: amount(limit.latePerDay, COUNTED),
    scrappedPerDay: amount(limit.scrappedPerDay, COUNTED),
    sentBackPerDay: amount(limit.sentBackPerDay, COUNTED),
  }))
}

export function hiddenDefectRows(study: RunStudy): HiddenDefectRow[] {
  return study.losses.hiddenDefects.map(({ made, rejectedPerDay }) => ({
    made,
    rejectedPerDay: amount(rejectedPerDay),
  }))
}
