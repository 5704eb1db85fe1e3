import type { Line } from '../../../sim/line/types.ts'
import type { ConstraintStep, ConstraintStudy } from '../../../sim/study/constraint/constraint.ts'
import { figure, PARTS, percent, significant } from '../format.ts'
import type { Section } from '../page.ts'
import { columnsOf, tableOf } from '../table.ts'
import { differences, keyFigure, type PageParts } from './answer-page.ts'
import { outline } from './outline.ts'
import { STATE_TONES, STATE_WORDS, statesIn } from './stand-words.ts'

/** Steps that a chart shows; all are in the table. */
const MOST = 40

/** Charts of `constraint`: what more speed at each step brings, beside the other evidence. */
export function constraintParts(study: ConstraintStudy, line: Line): PageParts {
  const present = statesIn(study.steps)
  const steps = new Map(study.steps.map(step => [step.name, step]))
  const [top] = [...study.steps].sort((a, b) => b.gainPerHour.mean - a.gainPerHour.mean)
  const faster = `${significant(study.faster * 100, 3)} % faster`
  return {
    figures: [
      keyFigure('Good output', 'cells/h', study.goodPerHour, 'as the line is'),
      ...(top === undefined
        ? []
        : [keyFigure('Largest gain', 'cells/h', top.gainPerHour, `${top.name} ${faster}`)]),
      ...momentary(study),
      keyFigure('Shifts', 'per day', study.shiftsPerDay, 'of the momentary constraint between steps', {
        least: 0,
      }),
    ].slice(0, 4),
    picture: outline(line, {
      marked: study.held.steps,
      markMeans: 'holds the line',
      stand: study.steps,
      facts: step => {
        const found = steps.get(step)
        if (found === undefined) return []
        return [
          `${figure(found.gainPerHour).text} good cells/h more when ${faster}`,
          `momentary constraint ${percent(found.momentaryShare, { digits: 2, most: 0 }).text} % of the time`,
        ]
      },
    }),
    sections: [gains(study, faster), moments(study), states(study, present)],
  }
}

/** Those of a step add up. */
const SHARES = { ...PARTS, most: 2 }

function momentary({ steps }: ConstraintStudy) {
  const [most] = [...steps].sort((a, b) => b.momentaryShare.mean - a.momentaryShare.mean)
  if (most === undefined) return []
  const show = { scale: 100, most: 0, least: 0, highest: 1 }
  return [keyFigure('Most often the momentary constraint', '%', most.momentaryShare, most.name, show)]
}

function gains(study: ConstraintStudy, faster: string): Section {
  const columns = columnsOf<ConstraintStep>()
  const ranked = [...study.steps].sort((a, b) => b.gainPerHour.mean - a.gainPerHour.mean).slice(0, MOST)
  return {
    id: 'gains',
    title: `What each step ${faster} would bring`,
    lead: `Good cells an hour more with that step alone ${faster}, on common random streams. The intervals hold together at ${significant(study.level * 100, 4)} %. The verdict goes by these gains.`,
    chart: differences(
      `Gain in good output with one step ${faster}`,
      { label: 'good cells more', unit: 'cells/h' },
      ranked,
      step => step.name,
      step => step.gainPerHour,
    ),
    table: tableOf(
      'Evidence of every step',
      [
        columns.words('step', step => step.name),
        columns.numbers('tools', '', step => step.tools),
        columns.numbers('on paper', 'cells/h', step => step.staticPerHour),
        columns.shares('productive', step => step.states.productive, SHARES),
        columns.shares('starved', step => step.states.starved, SHARES),
        columns.shares('blocked', step => step.states.blocked, SHARES),
        columns.shares('down', step => step.states.down, SHARES),
        columns.shares('momentary constraint', step => step.momentaryShare),
        columns.estimates('gain', 'cells/h', step => step.gainPerHour, { digits: 2 }),
      ],
      study.steps,
    ),
  }
}

function moments(study: ConstraintStudy): Section {
  const columns = columnsOf<ConstraintStep>()
  return {
    id: 'moments',
    title: 'Which step was the momentary constraint',
    lead: 'Share of time in which a tool of the step was in the longest active period of the line (Roser, Nakano and Tanaka 2002). It shifts: the shares need not point at one step.',
    chart: {
      kind: 'bars',
      title: 'Share of time as momentary constraint, by step',
      names: study.steps.map(step => step.name),
      series: [
        {
          name: 'momentary constraint',
          tone: 'productive',
          values: study.steps.map(step => step.momentaryShare.mean * 100),
        },
      ],
      axis: { label: 'share of time', unit: '%' },
      ends: study.steps.map(step => `${percent(step.momentaryShare, { digits: 2, most: 0 }).text} %`),
    },
    table: tableOf(
      'Share of time as momentary constraint',
      [
        columns.words('step', step => step.name),
        columns.shares('momentary constraint', step => step.momentaryShare),
      ],
      study.steps,
    ),
  }
}

function states(study: ConstraintStudy, present: ReturnType<typeof statesIn>): Section {
  const columns = columnsOf<ConstraintStep>()
  return {
    id: 'states',
    title: 'What the tools of each step do',
    lead: 'Share of tool time in each state as the line is, mean over the tools of a step.',
    chart: {
      kind: 'bars',
      title: 'Share of time in each state, by step',
      names: study.steps.map(step => step.name),
      series: present.map(state => ({
        name: STATE_WORDS[state],
        tone: STATE_TONES[state],
        values: study.steps.map(step => step.states[state].mean * 100),
      })),
      axis: { label: 'share of tool time', unit: '%' },
      most: 100,
      marked: study.steps.flatMap((step, at) => (study.held.steps.includes(step.name) ? [at] : [])),
    },
    table: tableOf(
      'Share of time in each state, by step',
      [
        columns.words('step', step => step.name),
        ...present.map(state => columns.shares(STATE_WORDS[state], step => step.states[state], SHARES)),
      ],
      study.steps,
    ),
  }
}
