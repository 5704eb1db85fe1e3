import {
  annuityFactor,
  capitalRecoveryFactor,
  discountedPaybackYears,
  internalRate,
  levelFlows,
  netPresentValue,
  paybackYears,
  sinkingFundFactor,
} from '../../sim/money/cash-flow.ts'
import type { ExactFigure, NumberCheck } from './check.ts'

/** Money: numbers that functions of the simulator must return. */
const DIGITS_9 = 1e-9

function figure(name: string, expected: number, tolerance: number, find: () => number): ExactFigure {
  return { name, expected, tolerance, find }
}

const or = (value: number | undefined) => value ?? Number.NaN

const SELF_TEST = [-200, 50, 60, 70, 200]
const SECOND_ROW = [-1000, 500, 400, 300, 200, 100]

/** Equivalent yearly cost: -first (A/P) - yearly + salvage (A/F). */
function yearlyCost(first: number, yearly: number, salvage: number, years: number): number {
  const rate = 0.08
  return -first * capitalRecoveryFactor(rate, years) - yearly + salvage * sinkingFundFactor(rate, years)
}

const FACTORS: readonly ExactFigure[] = (
  [
    ['P/A, 8 %, 5', 3.9927100370780884, () => annuityFactor(0.08, 5)],
    ['P/A, 8 %, 10', 6.710081398941448, () => annuityFactor(0.08, 10)],
    ['P/A, 10 %, 5', 3.7907867694084505, () => annuityFactor(0.1, 5)],
    ['P/A, 10 %, 10', 6.144567105704685, () => annuityFactor(0.1, 10)],
    ['A/P, 8 %, 5', 0.2504564545668364, () => capitalRecoveryFactor(0.08, 5)],
    ['A/P, 8 %, 10', 0.14902948869707536, () => capitalRecoveryFactor(0.08, 10)],
    ['A/F, 8 %, 5', 0.1704564545668364, () => sinkingFundFactor(0.08, 5)],
    ['A/F, 8 %, 10', 0.06902948869707536, () => sinkingFundFactor(0.08, 10)],
  ] as const
).map(([name, expected, find]) => figure(name, expected, DIGITS_9, find))

export const MONEY: readonly NumberCheck[] = [
  {
    id: 'E-01',
    family: 'money',
    what: 'flows -200, 50, 60, 70, 200 at 10 %',
    source: 'self-test problem in the manner of Ross, Westerfield & Jordan: payback 3.10 years, NPV 84.23',
    figures: [
      figure('net present value', 84.23604945017411, DIGITS_9, () => netPresentValue(SELF_TEST, 0.1)),
      figure('payback, years', 3.1, DIGITS_9, () => or(paybackYears(SELF_TEST))),
      figure('discounted payback, years', 3.38335, DIGITS_9, () =>
        or(discountedPaybackYears(SELF_TEST, 0.1)),
      ),
      figure('internal rate', 0.2414324957812735, DIGITS_9, () => or(internalRate(SELF_TEST))),
    ],
  },
  {
    id: 'E-02',
    family: 'money',
    what: 'flows -1000, 500, 400, 300, 200, 100 at 10 %',
    source: 'example flows of the manual of a public R package, figures by arithmetic',
    figures: [
      figure('net present value', 209.21323059155156, DIGITS_9, () => netPresentValue(SECOND_ROW, 0.1)),
      figure('payback, years', 2.3333333333333335, DIGITS_9, () => or(paybackYears(SECOND_ROW))),
      figure('discounted payback, years', 2.953333333333334, DIGITS_9, () =>
        or(discountedPaybackYears(SECOND_ROW, 0.1)),
      ),
      figure('internal rate', 0.20271969394349634, DIGITS_9, () => or(internalRate(SECOND_ROW))),
    ],
  },
  {
    id: 'E-03',
    family: 'money',
    what: 'interest factors',
    source: 'tables of engineering economy print .25046, .14903, .17046, .06903; digits by closed form',
    figures: FACTORS,
  },
  {
    id: 'E-04',
    family: 'money',
    what: 'equivalent yearly cost of two tools at 8 %',
    source: 'worked example of engineering economy: -4,087.69 and -7,418.45 with factors of five digits',
    figures: [
      figure('A: 25000, 500 a year, 2000 back after 10 years', -4087.6782400327, 1e-9, () =>
        yearlyCost(25000, 500, 2000, 10),
      ),
      figure('B: 8000, 5500 a year, 500 back after 5 years', -7418.4234092513, 1e-9, () =>
        yearlyCost(8000, 5500, 500, 5),
      ),
    ],
  },
  {
    id: 'E-05',
    family: 'money',
    what: 'an added tool: 6200 to 6450 good/h, 7.923492 W, 0.012 per W, 1.4 million, 90 000 a year, 7 years, 12 %',
    source: 'arithmetic; the amounts are placeholders',
    figures: addedTool(),
  },
]

function addedTool(): ExactFigure[] {
  const perYear = (6450 - 6200) * 8200 * 7.923492 * 0.012 - 90_000
  const flows = levelFlows(1_400_000, perYear, 7)
  return [
    figure('payback, years', 13.343766481219571, DIGITS_9, () =>
      or(paybackYears(levelFlows(1_400_000, perYear, 20))),
    ),
    figure('net present value', -921180.2332276008, DIGITS_9, () => netPresentValue(flows, 0.12)),
    figure('P/A, 12 %, 7', 4.563756538859223, DIGITS_9, () => annuityFactor(0.12, 7)),
  ]
}
