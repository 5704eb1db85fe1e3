import type { Line } from '../../sim/line/types.ts'
import { constraintStudy } from '../../sim/study/constraint/constraint.ts'
import type { StudyCheck, StudyFigure, StudyRun } from './check.ts'
import { exponential, serial } from './lines.ts'
import { exactly, lineOf, meansOf, optionsOf } from './study-run.ts'

/**
 * Where a line is held, on lines of exponential tools for which theory tells it. The
 * exact gain of each step, 10 % faster, is the difference of two throughputs, each
 * solved from the Markov chain of the line (blocking after service, places besides the
 * tools). Times in minutes, gains in wafers an hour.
 */
const CHAIN = 'gains by the Markov chain of the line, computed independently'
const BOWL = `Hillier & Boling 1966, Journal of Industrial Engineering 17, 651-658 (from memory); ${CHAIN}`
const REVERSED = `Muth 1979, Yamazaki & Sakasegawa 1975 (from memory); ${CHAIN}`

/** A gain of the difference of two runs is known less well than either. */
const GAIN_WITHIN = 0.05

/** What theory says of the steps of a line, in their order. */
interface Theory {
  readonly gains: readonly number[]
  /** Numbers of the steps that hold the line, counted from 1. */
  readonly held: readonly number[]
}

interface Answer {
  readonly figures: readonly StudyFigure[]
  readonly held: readonly number[]
}

async function asked(line: Line, run: StudyRun, { gains }: Pick<Theory, 'gains'>): Promise<Answer> {
  const study = await constraintStudy(lineOf(line), optionsOf(run), meansOf(run))
  const names = study.steps.map(({ name }) => name)
  return {
    figures: study.steps.map(({ name, gainPerHour }, s) => ({
      ...{ name: `gain of ${name}, 10 % faster`, expected: gains[s], within: GAIN_WITHIN },
      ...{ estimate: gainPerHour, level: study.gainLevel },
    })),
    held: study.held.steps.map(step => names.indexOf(step) + 1).sort((a, b) => a - b),
  }
}

/** The steps that hold a line, as one number: 13 for the first and the third. */
const named = (steps: readonly number[]) => Number(steps.join(''))

function check(
  id: string,
  what: string,
  source: string,
  line: Line,
  days: number,
  theory: Theory,
): StudyCheck {
  return {
    ...{ id, family: 'studies', what, source, run: { days, replications: 30 } },
    async find(run) {
      const { figures, held } = await asked(line, run, theory)
      return [...figures, exactly('numbers of the steps that hold it', named(theory.held), named(held))]
    },
  }
}

function exponentialLine(name: string, means: readonly number[], places: readonly number[]): Line {
  return serial(
    name,
    means.map(mean => ({ cycle: exponential(mean) })),
    places,
  )
}

const MEANS = [1.6, 2, 1.5] as const
const GAINS = [0.4819872693033, 1.4855415489813, 0.3348402043896] as const

/** The same line both ways, and one line of figures for each step: what it gains in the one, and in the other. */
const reversed: StudyCheck = {
  ...{ id: 'D-03', family: 'studies', source: REVERSED },
  what: 'constraint: means 1.6, 2, 1.5, 3 places each, and the line run backwards: each step gains the same in both',
  run: { days: 15, replications: 30 },
  async find(run) {
    const forward = await asked(exponentialLine('forward', MEANS, [3, 3]), run, { gains: GAINS })
    const backward = await asked(exponentialLine('backward', MEANS.toReversed(), [3, 3]), run, {
      gains: GAINS.toReversed(),
    })
    const of = (way: string, { figures, held }: Answer) => [
      ...figures.map(figure => ({ ...figure, name: `${way}: ${figure.name}` })),
      exactly(`${way}: numbers of the steps that hold it`, 2, named(held)),
    ]
    return [...of('forward', forward), ...of('backward', backward)]
  },
}

export const STUDY_CONSTRAINT: readonly StudyCheck[] = [
  check(
    'D-01',
    'constraint: three equal steps, 1 place each: the middle matters most',
    BOWL,
    exponentialLine('balanced', [1, 1, 1], [1, 1]),
    12,
    { gains: [1.0716540066937, 1.4152739429377, 1.0716540066937], held: [2] },
  ),
  check(
    'D-02',
    'constraint: the best bowl, means 1.085533, 0.828934, 1.085533, no places: the ends, alike',
    BOWL,
    exponentialLine('bowl', [1.085533, 0.828934, 1.085533], [0, 0]),
    12,
    { gains: [1.1169028464031, 0.856055221331, 1.1169028464031], held: [1, 3] },
  ),
  reversed,
]
