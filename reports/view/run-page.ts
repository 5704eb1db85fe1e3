import type { Line } from '../../sim/line/types.ts'
import type { Recording } from '../../sim/measure/recording.ts'
import type { RunStudy } from '../../sim/study/run-study.ts'
import { auditView } from './audit-view.ts'
import { courseSections } from './course-sections.ts'
import { amount, grouped, percent, significant } from './format.ts'
import type { Assumptions, KeyFigure, Page } from './page.ts'
import { peopleSections } from './people-sections.ts'
import { runPicture } from './run-picture.ts'
import { type RunContext, runView } from './run-view.ts'
import { assumptionsOf, sourcesOf } from './scenario-words.ts'
import { shiftView } from './shift.ts'
import { STATE_KEYS } from './states.ts'
import { stepSections } from './step-sections.ts'

/** What the page of a run is made from, besides its result. */
export interface PageContext extends RunContext {
  /** The line that was simulated, its variant applied. */
  readonly line: Line
  /** The command line that made it. */
  readonly command: string
  readonly recording?: Recording
}

/** Figures on the first screen. */
const KEY_FIGURES = 4

/** The page of a run: the answer, the line, every figure as chart and table, and what it rests on. */
export function runPage(study: RunStudy, context: PageContext): Page {
  const view = runView(study, context)
  const drawn = runPicture(context.line, study)
  const states = STATE_KEYS.filter(key => drawn.legend.some(({ tone }) => tone === key))
  return {
    command: 'run',
    title: view.title,
    answer: view.headline,
    figures: keyFigures(study).slice(0, KEY_FIGURES),
    picture: drawn,
    warnings: view.warnings,
    sections: [...stepSections(study), ...courseSections(study), ...peopleSections(study)],
    ...(context.recording !== undefined && { shift: shiftView(context.recording, states) }),
    assumptions: assumptions(study, context),
    caution: view.caution,
  }
}

/** The figures that matter, the weightiest first. */
export function keyFigures(study: RunStudy): KeyFigure[] {
  const { goodOutput, throughputHours } = study
  const { perHour, megawattPerYear, hoursPerYear, shareOfTarget, targetPerHour } = goodOutput
  const target =
    shareOfTarget === undefined || targetPerHour === undefined
      ? undefined
      : `${percent(shareOfTarget, { digits: 2 }).text} % of the target of ${grouped(targetPerHour, 0)}/h`
  const inMinutes = throughputHours.mean.mean < 1
  const stayScale = inMinutes ? 60 : 1
  const late = amount(throughputHours.p95, { scale: stayScale, most: 2 }).text
  const list: (KeyFigure | undefined)[] = [
    {
      label: 'Good output',
      figure: amount(perHour, { digits: 2 }),
      unit: 'cells/h',
      ...(target !== undefined && { note: target }),
      estimate: perHour,
      scale: 1,
    },
    megawattPerYear && {
      label: 'A year at this rate',
      figure: amount(megawattPerYear, { digits: 2 }),
      unit: 'MW/yr',
      note: hoursPerYear === undefined ? 'of cells' : `of cells, in ${grouped(hoursPerYear, 0)} h`,
      estimate: megawattPerYear,
      scale: 1,
    },
    {
      label: 'Yield',
      figure: percent(study.yield, { digits: 2, most: 3 }),
      unit: '%',
      note: 'good of good and lost',
      estimate: study.yield,
      scale: 100,
    },
    {
      label: 'Throughput time',
      figure: amount(throughputHours.mean, { digits: 2, scale: stayScale }),
      unit: inMinutes ? 'min' : 'h',
      note: `on average; 95 % within ${late} ${inMinutes ? 'min' : 'h'}`,
      estimate: throughputHours.mean,
      scale: stayScale,
    },
    {
      label: 'Work in progress',
      figure: amount(study.wip, { digits: 2 }),
      unit: 'wafers',
      note: 'in the line on average',
      estimate: study.wip,
      scale: 1,
    },
  ]
  return list.filter(one => one !== undefined)
}

function assumptions(study: RunStudy, context: PageContext): Assumptions {
  const items = assumptionsOf(context.line)
  const fact = (name: string, text: string) => ({ name, text })
  return {
    about: [...(context.line.from === undefined ? [] : [context.line.from]), ...study.notes],
    items,
    sources: sourcesOf(items),
    facts: [
      fact('Scenario', study.line),
      ...(context.variant === undefined ? [] : [fact('Variant', context.variant)]),
      ...(context.changes ?? []).map(change => fact('Changed', change)),
      fact('Hash of the line', context.fingerprint),
      fact('Seed', study.seed),
      fact('Version', study.version),
      fact('Command line', context.command),
      fact('Drive', study.drive),
    ],
    statistics: statistics(study),
  }
}

function statistics(study: RunStudy): string[] {
  const { warmUp, replications, days, level, precision } = study
  const hours = (value: number) => `${significant(value, 3)} h`
  const one = replications === 1
  const whole = `found ${hours(warmUp.foundHours)}, but only whole days or weeks of this line are alike`
  const asFound = warmUp.cutHours === warmUp.foundHours
  const sentences = [
    `${replications} independent ${one ? 'replication' : 'replications'} of ${significant(days, 6)} days; ${one ? 'one alone gives no interval' : 'random streams are named by seed, replication, station, tool and purpose'}.`,
    warmUp.cutHours > 0
      ? `The first ${hours(warmUp.cutHours)} are cut as warm-up (MSER-5 on the mean output of all replications; White 1997${asFound ? '' : `; it ${whole}`}), which leaves ${hours(warmUp.windowHours)} each.`
      : `No warm-up cut: MSER-5 (White 1997) ${asFound ? 'found none on the mean output' : whole}; ${hours(warmUp.windowHours)} each are measured.`,
    `Intervals are Student-t intervals over replications at ${significant(level * 100, 4)} %. A difference inside its interval is no difference shown.`,
    'Quantiles of times (median, 95 % within) are read off classes that are half a per cent wide.',
    'States by SEMI E10, standby split in starved and blocked; OEE by ISO 22400-2.',
    ...auditView(study.audit).lines,
  ]
  if (precision === undefined) return sentences
  const share = (value: number) => `${significant(value * 100, 2)} %`
  return [
    ...sentences,
    `Precision wanted: half-width of ${share(precision.wanted)} of the good output; reached ${share(precision.reached)}${precision.met ? '' : `, not met with at most ${precision.cap} replications`}.`,
  ]
}
