import type { Line } from '../../sim/line/types.ts'
import type { Stop } from '../../sim/line/types-step.ts'
import { type LossesStudy, lossesStudy } from '../../sim/study/losses/losses.ts'
import type { StudyCheck, StudyFigure } from './check.ts'
import { exponential, minutes, serial } from './lines.ts'
import { exactly, lineOf, meansOf, optionsOf } from './study-run.ts'

/**
 * What each loss costs, on lines with closed forms: the line with one cause alone taken
 * away against the line as it is. Good cells a day, amounts a year.
 */
const BUZACOTT =
  'up 1 / (1 + sum of down / up): Buzacott 1967, International Journal of Production Research 5, 183-200 (from memory)'

/** A difference of two runs is known less well than either. */
const LOSS_WITHIN = 0.03
/** What two losses share is a few per cent of them, so that it is known less well still. */
const OVERLAP_WITHIN = 0.15

function check(
  id: string,
  what: string,
  source: string,
  line: Line,
  days: number,
  read: (study: LossesStudy) => StudyFigure[],
): StudyCheck {
  return {
    ...{ id, family: 'studies', what, source, run: { days, replications: 30 } },
    find: async run => read(await lossesStudy(lineOf(line), optionsOf(run), meansOf(run))),
  }
}

/** The loss whose name begins like this. */
function lossOf({ losses, lossLevel }: LossesStudy, name: string, expected: number): StudyFigure {
  const loss = losses.find(candidate => candidate.name.startsWith(name))
  if (!loss) throw new Error(`no loss ${name}`)
  return { name: loss.name, expected, within: LOSS_WITHIN, estimate: loss.goodPerDay, level: lossLevel }
}

function cashOf({ losses, lossLevel }: LossesStudy, name: string, expected: number): StudyFigure {
  const estimate = losses.find(candidate => candidate.name.startsWith(name))?.cashPerYear
  if (!estimate) throw new Error(`no money of ${name}`)
  return { name: `${name}, money a year`, expected, within: LOSS_WITHIN, estimate, level: lossLevel }
}

/** Wafers that a tool with a fixed time of 2 s would make in a day. */
const PER_DAY = 43_200
const JAM = { stop: 'jam', every: exponential(9), lasts: exponential(1) } as const
const CHANGE = { stop: 'change', every: exponential(20), lasts: minutes(2) } as const
/** Down for each time up. */
const JAMMED = 1 / 9
const CHANGED = 2 / 20

const made = (...shares: number[]) => PER_DAY / (1 + shares.reduce((sum, share) => sum + share, 0))

function oneTool(name: string, stops: readonly Stop[]): Line {
  return { line: name, route: [{ step: 'tool', cycle: '2 s', stops }] }
}

/** Cells of 1 each, wafers of 0.3: what breaks or is rejected has cost its wafer already. */
const PRICES = { currency: 'EUR', pricePerCell: 1, wafer: 0.3, hoursPerYear: 8000 } as const
const BREAKS = 0.02
const REJECTS = 0.05

export const STUDY_LOSSES: readonly StudyCheck[] = [
  check(
    'D-04',
    'losses: one tool, one stop, up 9 min and down 1 min: the stop is the whole loss',
    BUZACOTT,
    oneTool('one stop', [JAM]),
    5,
    study => [
      lossOf(study, 'stop "jam"', PER_DAY - made(JAMMED)),
      {
        ...{ name: 'nameplate less what is made', expected: PER_DAY - made(JAMMED), within: LOSS_WITHIN },
        estimate: study.wholePerDay,
      },
      exactly('nameplate', PER_DAY, study.nameplate.goodPerDay),
    ],
  ),
  check(
    'D-05',
    'losses: one tool, two stops, up 9 and 20 min, down 1 and 2 min: each alone, and what both hide of each other',
    BUZACOTT,
    oneTool('two stops', [JAM, CHANGE]),
    8,
    study => {
      const jam = made(CHANGED) - made(JAMMED, CHANGED)
      const change = made(JAMMED) - made(JAMMED, CHANGED)
      const whole = PER_DAY - made(JAMMED, CHANGED)
      return [
        lossOf(study, 'stop "jam"', jam),
        lossOf(study, 'stop "change"', change),
        { name: 'sum', expected: jam + change, within: LOSS_WITHIN, estimate: study.sumPerDay },
        {
          ...{ name: 'overlap', expected: whole - jam - change, within: OVERLAP_WITHIN },
          estimate: study.overlapPerDay,
        },
      ]
    },
  ),
  check(
    'D-06',
    'losses: two exponential steps, rates 2 and 1 a minute, 3 places: what the buffer with an end costs',
    'mu2 (1 - rho)/(1 - rho^(q+3)), rho = mu1/mu2, closed form (value computed independently, citation from memory)',
    serial('buffer with an end', [{ cycle: exponential(0.5) }, { cycle: exponential(1) }], [3]),
    32,
    study => [lossOf(study, 'buffers', (1 - 0.9841269841269841) * 1440)],
  ),
  check(
    'D-07',
    'losses: one tool of 2 s that breaks 2 % and rejects 5 % of the rest, cells of 1, wafers of 0.3',
    'arithmetic',
    {
      ...{ line: 'what is lost', money: PRICES },
      route: [{ step: 'tool', cycle: '2 s', breakage: '2 %', reject: '5 %' }],
    },
    1,
    study => {
      const broken = BREAKS * (1 - REJECTS) * PER_DAY
      const rejected = (1 - BREAKS) * REJECTS * PER_DAY
      const daysPerYear = PRICES.hoursPerYear / 24
      return [
        lossOf(study, 'breakage', broken),
        lossOf(study, 'reject', rejected),
        cashOf(study, 'breakage', broken * daysPerYear),
        cashOf(study, 'reject', rejected * daysPerYear),
      ]
    },
  ),
]
