import type { Line } from '../../sim/line/types.ts'
import type { Estimate } from '../../sim/stats/estimate.ts'
import {
  type PaybackStudy,
  type PricedLine,
  paybackStudy,
  type TriedChange,
} from '../../sim/study/payback/payback.ts'
import type { StudyCheck, StudyFigure } from './check.ts'
import { lineOf, meansOf, optionsOf } from './study-run.ts'

/** What a change pays, on lines whose gain is known: from cells an hour to the net present value. */
const RENEWALS = 'a tool that never waits makes 3600 / mean an hour (renewal theory)'

const GAIN_WITHIN = 0.005
/** Money left when running costs are paid, and what follows from it. */
const MONEY_WITHIN = 0.02

function check(
  id: string,
  what: string,
  source: string,
  line: Line,
  days: number,
  change: string,
  figures: (
    tried: TriedChange,
  ) => (Omit<StudyFigure, 'estimate'> & { readonly estimate: Estimate | undefined })[],
): StudyCheck {
  return {
    ...{ id, family: 'studies', what, source, run: { days, replications: 30 } },
    async find(run) {
      const study = await paybackStudy(lineOf(line) as PricedLine, optionsOf(run), meansOf(run))
      const tried = triedOf(study, change)
      return figures(tried).map(({ estimate, ...figure }) => ({
        ...{ level: study.changeLevel, ...figure },
        estimate: estimate ?? { mean: Number.NaN, n: 0 },
      }))
    },
  }
}

function triedOf({ changes }: PaybackStudy, name: string): TriedChange {
  const tried = changes.find(candidate => candidate.name === name)
  if (!tried) throw new Error(`payback has not tried ${name}`)
  return tried
}

/** E-05 as a line: the added tool makes 6450 good cells an hour of 6200. The amounts are placeholders. */
const ADDED: Line = {
  line: 'added tool',
  wafer: { area: '330.145504 cm2', efficiency: { mean: '24 %' } },
  route: [{ step: 'tool', cycle: { exponential: `${3600 / 6200} s` } }],
  variants: { 'one more': { tool: { cycle: { exponential: `${3600 / 6450} s` } } } },
  money: {
    ...{ currency: 'EUR', pricePerWatt: 0.012, wafer: 0, hoursPerYear: 8200 },
    ...{ discountRate: '12 %', years: 7 },
    variants: { 'one more': { investment: 1_400_000, perYear: 90_000 } },
  },
}

/** One more tool: 900 wafers an hour more, a tenth of them rejected. */
const SECOND: Line = {
  line: 'second tool',
  route: [{ step: 'print', cycle: { exponential: '4 s' }, reject: '10 %' }],
  money: {
    ...{ currency: 'EUR', pricePerCell: 1, wafer: 0.5, addedPerWafer: { print: 0.12 }, hoursPerYear: 8000 },
    ...{ discountRate: '10 %', years: 5, perKilowattHour: 0.1 },
    tools: { print: { price: 400_000, installation: 20_000, upkeep: '5 %', kilowatts: 10 } },
  },
}
const SECOND_COST = 420_000
/** Cells less wafers and paste, less upkeep and power. */
const SECOND_CASH = (810 * 1 - 900 * (0.5 + 0.12)) * 8000 - 20_000 - 8000
/** (P/A, 10 %, 5), as tables of engineering economy have it. */
const FACTOR = 3.7907867694084505

export const STUDY_PAYBACK: readonly StudyCheck[] = [
  check(
    'D-08',
    'payback: the added tool of E-05, 6200 to 6450 good cells an hour, simulated',
    `E-05: arithmetic, the amounts are placeholders; ${RENEWALS}`,
    ADDED,
    1.5,
    'one more',
    ({ gainPerHour, megawattPerYear, cashPerYear, paybackYears, npv }) => [
      { name: 'gain an hour', expected: 250, within: GAIN_WITHIN, estimate: gainPerHour },
      { name: 'MW a year', expected: 16.2431586, within: GAIN_WITHIN, estimate: megawattPerYear },
      { name: 'cash a year', expected: 104_917.9032, within: MONEY_WITHIN, estimate: cashPerYear },
      {
        ...{ name: 'payback, years', expected: 13.343766481219571, within: MONEY_WITHIN },
        estimate: paybackYears,
      },
      { name: 'net present value', expected: -921_180.2332276008, within: MONEY_WITHIN, estimate: npv },
    ],
  ),
  check(
    'D-09',
    'payback: one more tool, 900 wafers an hour more, 10 % rejected, 420 000, 10 %, 5 years',
    `tables of engineering economy print (P/A, 10 %, 5) as 3.7908, the rest is arithmetic; ${RENEWALS}`,
    SECOND,
    2,
    'one more tool of print',
    ({ gainPerHour, cashPerYear, paybackYears, npv }) => [
      { name: 'gain an hour', expected: 810, within: GAIN_WITHIN, estimate: gainPerHour },
      { name: 'cash a year', expected: SECOND_CASH, within: MONEY_WITHIN, estimate: cashPerYear },
      {
        ...{ name: 'payback, years', expected: SECOND_COST / SECOND_CASH, within: MONEY_WITHIN },
        estimate: paybackYears,
      },
      {
        ...{ name: 'net present value', expected: FACTOR * SECOND_CASH - SECOND_COST, within: MONEY_WITHIN },
        estimate: npv,
      },
    ],
  ),
]
