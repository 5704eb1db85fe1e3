import { quoted, wordList } from '../base/problems.ts'
import { capacityTable } from '../line/capacity.ts'
import type { Line } from '../line/types.ts'
import type { Rows } from '../measure/rows.ts'
import { TICKS_PER_HOUR } from '../plan/plan.ts'
import { stopsOf } from './designs/worst-stops.ts'
import { scatterOfGood } from './good-output.ts'
import type { RunStudy, Warning } from './run-study.ts'
import { rate, roundHours as round, windowWarnings } from './warnings-window.ts'

/** What a reader must know before trusting the figures. @param line the one that was simulated */
export function warningsOf(
  study: Omit<RunStudy, 'warnings'>,
  rows: readonly Rows[],
  line: Line | undefined,
): Warning[] {
  const made = study.goodOutput.perHour.mean > 0
  const all = [
    atRest(rows),
    noOutput(study),
    ...windowWarnings(
      study,
      rows.some(({ patterned }) => patterned),
    ),
    ...(line && made ? [abovePaper(study, rows, line), neverCame(study, line)] : []),
    precision(study),
  ]
  return all.filter(w => w !== undefined)
}

function atRest(rows: readonly Rows[]): Warning | undefined {
  const rest = rows.find(r => r.rest)?.rest
  if (!rest) return undefined
  const hours = (rest.from / TICKS_PER_HOUR).toPrecision(3)
  const waits = rest.waits.slice(0, 5).join('; ')
  const more = rest.waits.length > 5 ? `; and ${rest.waits.length - 5} more` : ''
  const held = rest.waits.length > 0 ? ` ${waits}${more}.` : ''
  return rest.fed
    ? {
        code: 'line at rest',
        text: `The last wafer of the feed has come and nothing moves from ${hours} h on.${held}`,
        hint: 'Shorten the run or let the feed bring more wafers.',
      }
    : {
        code: 'line at rest',
        text: `The line cannot move: nothing happens from ${hours} h on.${held}`,
        hint:
          rest.missed.length > 0
            ? `Nobody ever comes to calls for ${wordList(rest.missed.map(quoted), 'and')}: look at the heads of the crews, shift by shift, and at how many people a call needs.`
            : 'Look for a load or a number of places kept free that can never be reached.',
      }
}

function noOutput(study: Omit<RunStudy, 'warnings'>): Warning | undefined {
  if (study.goodOutput.perHour.mean > 0) return undefined
  const text = `No good cell left the line in the measured ${round(study.warmUp.windowHours)} h.`
  // A step that loses all that comes to it needs no longer run.
  const loser = study.steps.find(step => step.yield.n > 0 && step.yield.mean === 0)
  if (loser !== undefined) {
    const late = study.losses.timeLimits.find(
      ({ step, scrappedPerDay }) => step === loser.name && scrappedPerDay.mean > 0,
    )
    const why = late === undefined ? '' : `: they come too late after "${late.after}"`
    return {
      code: 'no output',
      text: `${text} "${loser.name}" loses all wafers${why}.`,
      hint: 'Look there first.',
    }
  }
  return {
    code: 'no output',
    text,
    hint: 'Run longer than a wafer needs through the line; if that is so already, look at the steps for what holds it.',
  }
}

function precision(study: Omit<RunStudy, 'warnings'>): Warning | undefined {
  const { precision: p } = study
  if (!p || p.met) return undefined
  return {
    code: 'precision not met',
    text: `After ${study.replications} replications the half-width is ${(p.reached * 100).toPrecision(2)} %, not the ${(p.wanted * 100).toPrecision(2)} % asked for.`,
    hint: 'Ask for less, run more days, or raise the cap on replications.',
  }
}

/** More than this above what is possible on paper is not what its arithmetic on means can be off. */
const ABOVE = 1.01

/** In the long run no line makes more than its paper capacity: in these runs less was in the way than there will be. */
function abovePaper(
  { level }: Omit<RunStudy, 'warnings'>,
  rows: readonly Rows[],
  line: Line,
): Warning | undefined {
  // By the scatter alone: what comes in step in all replications makes the interval wide, and the mean no better.
  const { mean, low = mean } = scatterOfGood(rows, level)
  const lowest = capacityTable(line).find(row => row.lowest)
  if (lowest === undefined || low <= ABOVE * lowest.goodPerHour) return undefined
  return {
    code: 'above paper',
    text: `The line made ${rate(mean)} good cells/h, but on paper ${quoted(lowest.step)} allows ${rate(lowest.goodPerHour)} in the long run: stops that are rare, or whose clocks start with the run, have come less often than they will.`,
    hint: 'Run more days, or let such stops begin at random ("first").',
  }
}

/** Stops that this warning names. */
const NAMED = 3

/** Stops by a clock that never came: what they cost is in no figure. */
function neverCame(study: Omit<RunStudy, 'warnings'>, line: Line): Warning | undefined {
  const missed = stopsOf(line).filter(({ step, stop }) => {
    if (stop.afterIdle !== undefined) return false
    const figures = study.steps.find(({ name }) => name === step)?.stops.find(one => one.stop === stop.stop)
    return figures !== undefined && figures.perDay.mean === 0
  })
  if (missed.length === 0) return undefined
  const named = missed.slice(0, NAMED).map(({ step, stop }) => `${quoted(stop.stop)} of ${quoted(step)}`)
  const more = missed.length > NAMED ? [`${missed.length - NAMED} more`] : []
  return {
    code: 'stops never came',
    text: `In what was measured ${wordList([...named, ...more], 'and')} never came: what ${missed.length === 1 ? 'it costs' : 'they cost'} is in no figure.`,
    hint: 'Run more days or replications.',
  }
}
