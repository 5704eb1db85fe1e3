import type { Bins, Line, WaferKind } from '../../sim/line/types.ts'
import { type Check, checksOf, type Figure, type RunLength } from './check.ts'
import { efficiency, goodShare, inBin, spreadOfMeanEfficiency } from './figures.ts'

/**
 * A tester that sorts cells into bins by efficiency, mean 23 %. Shares of the normal law
 * between the edges; Abramowitz & Stegun 1964, Handbook of Mathematical Functions, table
 * 26.1. Bins are numbered from 1, box 0 holds the cells below the lowest; the highest
 * has no upper end.
 */
const NORMAL = 'normal law, Abramowitz & Stegun 1964, table 26.1 (from memory, values computed)'
/** Phi at 0, 0.5, 1, 1.5 and 2. */
const PHI = [0.5, 0.6914624612740131, 0.8413447460685429, 0.9331927987311419, 0.9772498680518208]

/** Shares below -2 sd, from there in steps of half a sd to 1.5 sd, and above. */
const HALF_SD_SHARES = [
  1 - PHI[4],
  PHI[4] - PHI[3],
  PHI[3] - PHI[2],
  PHI[2] - PHI[1],
  PHI[1] - PHI[0],
  PHI[1] - PHI[0],
  PHI[2] - PHI[1],
  PHI[3] - PHI[2],
  1 - PHI[3],
]
/** Wafers in a lot, and those that leave within the measured window: one of the first lot, all but one of the last. */
const LOT = 500
const MEASURED = 49 * LOT
const LOT_WEIGHT = (1 + 48 * LOT ** 2 + (LOT - 1) ** 2) / MEASURED ** 2

/** Half a standard deviation is 0.1 % absolute in all of them. */
const HALF_SD_BINS: Bins = { first: '22.6 %', width: '0.1 %', count: 8 }

type Efficiency = WaferKind['efficiency']

function sorting(line: string, spread: Omit<Efficiency, 'mean'>, bins: Bins, test: object = {}): Line {
  return {
    line,
    wafer: { area: '330 cm2', efficiency: { mean: '23 %', ...spread } },
    route: [{ step: 'test', cycle: '1 s', test }],
    bins,
  }
}

const simulated = checksOf('binning')

function check(
  id: string,
  what: string,
  line: Line,
  source: string,
  figures: Figure[],
  days: number | RunLength,
): Check {
  return simulated(id, what, source, line, typeof days === 'number' ? days * 1440 : days, figures)
}

const halfSd = HALF_SD_SHARES.map((expected, bin) => inBin(bin, expected))

export const BINNING: readonly Check[] = [
  check(
    'C-01',
    'bins of half a standard deviation, the cells alone scatter (0.2 %)',
    sorting('cells', { sd: '0.2 %' }, HALF_SD_BINS),
    NORMAL,
    [...halfSd, efficiency(0.23)],
    200,
  ),
  check(
    'C-02',
    'the same with cells of 0.16 % and a tester of 0.12 %',
    sorting('cells and tester', { sd: '0.16 %' }, HALF_SD_BINS, { noise: '0.12 %' }),
    NORMAL,
    [...halfSd, efficiency(0.23)],
    200,
  ),
  check(
    'C-03',
    'the same with cells of 0.16 % in lots of 20 that scatter by 0.12 %',
    sorting('cells and lots', { sd: '0.16 %', lot: { wafers: 20, sd: '0.12 %' } }, HALF_SD_BINS),
    NORMAL,
    [...halfSd, efficiency(0.23)],
    400,
  ),
  check(
    'C-04',
    'cells below one standard deviation are rejected; the rest has mean phi(1)/Phi(1) sd more',
    sorting('rejects', { sd: '0.2 %' }, HALF_SD_BINS, { rejectBelow: '22.8 %' }),
    NORMAL,
    [goodShare(PHI[2]), efficiency(0.23 + (0.002 * 0.24197072451914337) / PHI[2])],
    60,
  ),
  check(
    'C-05',
    'mean efficiency of a run of 49 lots of 500: its spread over 200 runs',
    sorting('lots', { sd: '0.16 %', lot: { wafers: LOT, sd: '0.12 %' } }, HALF_SD_BINS),
    'variance of a mean of lots, arithmetic; chi-square interval of a variance',
    [spreadOfMeanEfficiency(Math.sqrt(0.0012 ** 2 * LOT_WEIGHT + 0.0016 ** 2 / MEASURED))],
    // 50 lots of wafers of 1 s; the cut takes the first lot but its last wafer, which leaves at the edge.
    { days: (50 * LOT) / 86_400, replications: 200 },
  ),
  check(
    'M-05a',
    'two bins of equal shares',
    sorting('two bins', { sd: '0.2 %' }, { first: '23 %', width: '1 %', count: 1 }),
    NORMAL,
    [inBin(0, 0.5), inBin(1, 0.5)],
    60,
  ),
  check(
    'M-05b',
    'four bins of equal shares, edges at 0 and 0.6744898 sd',
    sorting(
      'four bins',
      { sd: '0.2 %' },
      {
        first: `${23 - 0.2 * 0.6744897501960817} %`,
        width: `${0.2 * 0.6744897501960817} %`,
        count: 3,
      },
    ),
    NORMAL,
    [0, 1, 2, 3].map(bin => inBin(bin, 0.25)),
    60,
  ),
]
