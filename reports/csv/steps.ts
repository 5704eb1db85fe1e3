import type { RunStudy, StateShares, StepFigures } from '../../sim/study/run-study.ts'
import { type Column, column, csvText, estimateColumns } from './columns.ts'

const COLUMNS: readonly Column<StepFigures>[] = [
  column('step', step => step.name),
  column('kind', step => step.kind),
  column('tools', step => step.tools),
  ...estimateColumns<StepFigures>('started', 'wafers/h', step => step.startsPerHour),
  ...estimateColumns<StepFigures>('passed', 'wafers/h', step => step.passedPerHour),
  column('static rate over all hours [wafers/h]', step => step.staticPerHour),
  ...estimateColumns<StepFigures>('availability', 'fraction', step => step.oee.availability),
  ...estimateColumns<StepFigures>('performance', 'fraction', step => step.oee.performance),
  ...estimateColumns<StepFigures>('quality', 'fraction', step => step.oee.quality),
  ...estimateColumns<StepFigures>('OEE', 'fraction', step => step.oee.oee),
  ...estimateColumns<StepFigures>('broken', 'fraction', step => step.broken),
  ...estimateColumns<StepFigures>('rejected', 'fraction', step => step.rejected),
  ...estimateColumns<StepFigures>('reworked', 'fraction', step => step.reworked),
  ...estimateColumns<StepFigures>('set-up wafers', 'fraction', step => step.setUp),
  ...estimateColumns<StepFigures>('lost to stops', 'fraction', step => step.lost),
  ...estimateColumns<StepFigures>('yield', 'fraction', step => step.yield),
  ...estimateColumns<StepFigures>('WIP', 'wafers', step => step.wip),
  ...estimateColumns<StepFigures>('piles up behind', 'wafers/h', step => step.pilesUpPerHour),
  ...estimateColumns<StepFigures>('filled with dummies', 'places/day', step => step.dummies?.placesPerDay),
  ...estimateColumns<StepFigures>('dummies worn out', 'wafers/day', step => step.dummies?.wornOutPerDay),
]

/** One row per step: rates, OEE, yield. */
export function stepsCsv(study: RunStudy): string {
  return csvText(COLUMNS, study.steps)
}

interface StateShare {
  readonly step: string
  readonly state: string
  readonly share: StateShares[keyof StateShares]
}

/** Names of the states for a reader; the split of standby in starved and blocked is that of a serial line. */
const STATE_NAMES: Readonly<Record<keyof StateShares, string>> = {
  productive: 'productive',
  starved: 'standby, starved',
  blocked: 'standby, blocked',
  engineering: 'engineering',
  scheduledDown: 'scheduled downtime',
  unscheduledDown: 'unscheduled downtime',
  waitingForCrew: 'downtime, waiting for crew',
  nonScheduled: 'non-scheduled',
}

const STATE_COLUMNS: readonly Column<StateShare>[] = [
  column('step', row => row.step),
  column('state', row => row.state),
  ...estimateColumns<StateShare>('share of time', 'fraction', row => row.share),
]

/** One row per step and SEMI E10 state; the shares of a step add up to 1. */
export function statesCsv(study: RunStudy): string {
  const names = Object.entries(STATE_NAMES) as [keyof StateShares, string][]
  const rows = study.steps.flatMap(step =>
    names.map(([key, state]) => ({ step: step.name, state, share: step.states[key] })),
  )
  return csvText(STATE_COLUMNS, rows)
}
