import { sequentialConstants } from '../../sim/stats/kim-nelson.ts'
import { rinottConstant } from '../../sim/stats/rinott.ts'
import type { ExactFigure, NumberCheck } from './check.ts'

/** Constants of procedures that select among simulated systems. */

/** What the rule behind the expected values leaves open. */
const QUADRATURE = 5e-5

const SYSTEMS = [2, 3, 4, 5, 10] as const

/** Rinott's h by first stage, for k of SYSTEMS: double integral by 400-point Gauss-Legendre rules, to five decimals. */
const RINOTT: Readonly<Record<0.9 | 0.95, Readonly<Record<string, readonly number[]>>>> = {
  0.9: {
    10: [1.99855, 2.5875, 2.91261, 3.13666, 3.74586],
    20: [1.89575, 2.43117, 2.72015, 2.91636, 3.43736],
    30: [1.86605, 2.38699, 2.6664, 2.85534, 3.35369],
    50: [1.84372, 2.35406, 2.62654, 2.81023, 3.29237],
  },
  0.95: {
    10: [2.61412, 3.16572, 3.47628, 3.69262, 4.28953],
    20: [2.45247, 2.93719, 3.20317, 3.38541, 3.87527],
    30: [2.40698, 2.87427, 3.1289, 3.30257, 3.766],
    50: [2.37313, 2.82787, 3.07438, 3.24196, 3.68676],
  },
}

function rinottFigures(probability: 0.9 | 0.95): ExactFigure[] {
  return Object.entries(RINOTT[probability]).flatMap(([first, values]) =>
    values.map((expected, index) => ({
      name: `h, k ${SYSTEMS[index]}, n0 ${first}`,
      expected,
      tolerance: QUADRATURE / expected,
      find: () => rinottConstant(SYSTEMS[index], Number(first), probability),
    })),
  )
}

/** Probability, n0, h1 for k = 2. For more systems h1 is another constant, which nothing here rests on. */
const DUDEWICZ_DALAL = [
  [0.9, 20, 1.8957],
  [0.9, 40, 1.8519],
  [0.95, 20, 2.4525],
  [0.95, 40, 2.3856],
] as const

/** k, n0, eta, h squared at alpha 0.05, c 1. */
const KIM_NELSON = [
  [2, 10, 0.3340502686000293, 6.012904834800527],
  [2, 20, 0.13713749285156684, 5.21122472835954],
  [4, 10, 0.5646801866188322, 10.16424335913898],
  [4, 20, 0.21524767079863416, 8.179411490348098],
  [10, 10, 0.8590834299248991, 15.463501738648183],
  [10, 20, 0.3029338036492749, 11.511484538672446],
] as const

const RINOTT_SOURCE =
  'Rinott 1978, Communications in Statistics A 7, 799-811 (citation from memory, value computed independently)'

export const SELECTION: readonly NumberCheck[] = [
  {
    id: 'T-27',
    family: 'statistics',
    what: 'Rinott constants at 0.90',
    source: RINOTT_SOURCE,
    figures: rinottFigures(0.9),
  },
  {
    id: 'T-28',
    family: 'statistics',
    what: 'Rinott constants at 0.95',
    source: RINOTT_SOURCE,
    figures: rinottFigures(0.95),
  },
  {
    id: 'T-29',
    family: 'statistics',
    what: "h1 of Dudewicz and Dalal for two systems, which is Rinott's constant",
    source:
      'Law & Kelton, Simulation Modeling and Analysis, table of h1 (from memory, more digits by integration)',
    figures: DUDEWICZ_DALAL.map(([probability, first, expected]) => ({
      name: `h1, P ${probability}, n0 ${first}`,
      expected,
      tolerance: QUADRATURE / expected,
      find: () => rinottConstant(2, first, probability),
    })),
  },
  {
    id: 'T-30',
    family: 'statistics',
    what: 'constants of the fully sequential procedure, alpha 0.05',
    source: 'Kim & Nelson 2001, ACM TOMACS 11, 251-273 (citation from memory, value by closed form)',
    figures: KIM_NELSON.flatMap(([k, first, eta, hSquared]) => [
      {
        name: `eta, k ${k}, n0 ${first}`,
        expected: eta,
        tolerance: 1e-9,
        find: () => sequentialConstants(0.05 / (k - 1), first).eta,
      },
      {
        name: `h squared, k ${k}, n0 ${first}`,
        expected: hSquared,
        tolerance: 1e-9,
        find: () => sequentialConstants(0.05 / (k - 1), first).hSquared,
      },
    ]),
  },
]
