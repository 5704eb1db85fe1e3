import type { Estimate } from '../../../sim/stats/estimate.ts'
import type { CompareStudy, DesignFigures, Pair } from '../../../sim/study/compare/compare.ts'
import type { ConstraintStep, ConstraintStudy } from '../../../sim/study/constraint/constraint.ts'
import type { CurvePoint, CurveStudy } from '../../../sim/study/losses/curve.ts'
import type { Loss, LossesStudy } from '../../../sim/study/losses/losses.ts'
import type { PaybackStudy, TriedChange, TriedPair } from '../../../sim/study/payback/payback.ts'
import type { LeftOut, SizeStudy, TriedDesign } from '../../../sim/study/size/size.ts'
import { type Column, column, csvText, estimateColumns } from '../columns.ts'
import type { TextFile } from '../run-files.ts'

/** Tables of the studies of designs as text, one file each. */

const ABSENT: Estimate = { mean: Number.NaN, n: 0 }

/** An estimate that may be absent: its cells stay empty then. */
function maybe<Item>(name: string, unit: string, of: (item: Item) => Estimate | undefined) {
  return estimateColumns<Item>(name, unit, item => of(item) ?? ABSENT)
}

const STEPS: readonly Column<ConstraintStep>[] = [
  column('step', one => one.name),
  column('tools', one => one.tools),
  column('static good output [cells/h]', one => one.staticPerHour),
  ...estimateColumns<ConstraintStep>('gain', 'cells/h', one => one.gainPerHour),
  ...estimateColumns<ConstraintStep>('momentary constraint', 'fraction', one => one.momentaryShare),
  ...estimateColumns<ConstraintStep>('productive', 'fraction', one => one.states.productive),
  ...estimateColumns<ConstraintStep>('starved', 'fraction', one => one.states.starved),
  ...estimateColumns<ConstraintStep>('blocked', 'fraction', one => one.states.blocked),
  ...estimateColumns<ConstraintStep>('down', 'fraction', one => one.states.down),
  ...estimateColumns<ConstraintStep>('non-scheduled', 'fraction', one => one.states.off),
]

export function constraintFiles(study: ConstraintStudy): TextFile[] {
  return [{ name: 'constraint.csv', text: csvText(STEPS, study.steps) }]
}

const DESIGNS: readonly Column<DesignFigures>[] = [
  column('design', one => one.name),
  ...estimateColumns<DesignFigures>('good output', 'cells/h', one => one.goodPerHour),
  ...maybe<DesignFigures>('good output, power', 'MW/yr', one => one.megawattPerYear),
  // Designs of several scenarios may count in several currencies: so it stands beside the amount.
  ...maybe<DesignFigures>('margin', 'currency/yr', one => one.marginPerYear),
  column('currency', one => one.currency),
  ...estimateColumns<DesignFigures>('WIP', 'wafers', one => one.wip),
  ...estimateColumns<DesignFigures>('throughput time, mean', 'h', one => one.throughputHours),
]

const PAIRS: readonly Column<Pair>[] = [
  column('first', one => one.first),
  column('second', one => one.second),
  ...estimateColumns<Pair>('second less first', 'cells/h', one => one.gainPerHour),
  ...maybe<Pair>('second less first, power', 'MW/yr', one => one.megawattPerYear),
  column('verdict', one => one.verdict),
  column('differs in', one => one.changes.join('; ')),
]

export function compareFiles(study: CompareStudy): TextFile[] {
  return [
    { name: 'designs.csv', text: csvText(DESIGNS, study.designs) },
    { name: 'pairs.csv', text: csvText(PAIRS, study.pairs) },
  ]
}

export function lossesFiles(study: LossesStudy): TextFile[] {
  const columns: readonly Column<Loss>[] = [
    column('cause', one => one.name),
    column('kind', one => one.kind),
    ...estimateColumns<Loss>('good output lost', 'cells/day', one => one.goodPerDay),
    // Without prices the column is there all the same, and empty.
    ...maybe<Loss>('cash lost', `${study.currency ?? 'currency'}/yr`, one => one.cashPerYear),
    column('verdict', one => one.verdict),
  ]
  return [{ name: 'losses.csv', text: csvText(columns, [...study.losses, ...study.leftOut]) }]
}

export function curveFiles({ vary, unit, points, currency }: CurveStudy): TextFile[] {
  const columns: readonly Column<CurvePoint>[] = [
    column(`${vary} [${unit}]`, one => one.value),
    ...estimateColumns<CurvePoint>('good output', 'cells/h', one => one.goodPerHour),
    ...estimateColumns<CurvePoint>('against now', 'cells/h', one => one.gainPerHour),
    ...(currency === undefined
      ? []
      : maybe<CurvePoint>('cash against now', `${currency}/yr`, one => one.cashPerYear)),
  ]
  return [{ name: 'curve.csv', text: csvText(columns, points) }]
}

type Money = Pick<
  TriedChange,
  'cashPerYear' | 'paybackYears' | 'npv' | 'internalRate' | 'worth' | 'investment'
>

function moneyColumns<Item extends Money>(currency: string): readonly Column<Item>[] {
  return [
    ...estimateColumns<Item>('cash', `${currency}/yr`, one => one.cashPerYear),
    column(`investment [${currency}]`, one => one.investment),
    ...maybe<Item>('payback', 'years', one => one.paybackYears),
    ...maybe<Item>('net present value', currency, one => one.npv),
    ...maybe<Item>('internal rate', 'fraction/yr', one => one.internalRate),
    ...maybe<Item>('worth at most', currency, one => one.worth),
  ]
}

export function paybackFiles({ currency, changes, pairs }: PaybackStudy): TextFile[] {
  const changeColumns: readonly Column<TriedChange>[] = [
    column('change', one => one.name),
    column('kind', one => one.kind),
    ...estimateColumns<TriedChange>('gain', 'cells/h', one => one.gainPerHour),
    ...maybe<TriedChange>('gain, power', 'MW/yr', one => one.megawattPerYear),
    ...moneyColumns<TriedChange>(currency),
    column('verdict', one => one.verdict),
    column('changed', one => one.changes.join('; ')),
  ]
  const pairColumns: readonly Column<TriedPair>[] = [
    column('first', one => one.first),
    column('second', one => one.second),
    ...estimateColumns<TriedPair>('gain', 'cells/h', one => one.gainPerHour),
    ...estimateColumns<TriedPair>('over the sum of both', 'cells/h', one => one.overSum),
    column('against the sum', one => one.worthMoreThanSum),
    ...moneyColumns<TriedPair>(currency),
    column('verdict', one => one.verdict),
  ]
  return [
    { name: 'payback.csv', text: csvText(changeColumns, changes) },
    { name: 'pairs.csv', text: csvText(pairColumns, pairs) },
  ]
}

export function sizeFiles({ currency, tried, leftOut }: SizeStudy): TextFile[] {
  const numbers = tried[0]?.numbers ?? []
  const columns: readonly Column<TriedDesign>[] = [
    ...numbers.map(({ name }, i) => column<TriedDesign>(name, one => one.numbers[i].value)),
    column(`investment [${currency}]`, one => one.investment),
    column(`whole life [${currency}]`, one => one.wholeLife),
    column('floor [m2]', one => one.floor),
    ...estimateColumns<TriedDesign>('good output', 'cells/h', one => one.goodPerHour),
    column('verdict', one => one.verdict),
  ]
  const less: readonly Column<LeftOut>[] = [
    column('instead', one => one.name),
    ...estimateColumns<LeftOut>('against the chosen design', 'cells/h', one => one.gainPerHour),
  ]
  return [
    { name: 'designs.csv', text: csvText(columns, tried) },
    { name: 'left-out.csv', text: csvText(less, leftOut) },
  ]
}
