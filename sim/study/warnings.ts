import { quoted, wordList } from '../base/problems.ts'
import type { Rows } from '../measure/rows.ts'
import { TICKS_PER_HOUR } from '../plan/plan.ts'
import { beginsEarly } from './designs/window.ts'
import type { RunStudy, Warning } from './run-study.ts'

/** What a reader must know before trusting the figures. */
export function warningsOf(study: Omit<RunStudy, 'warnings'>, rows: readonly Rows[]): Warning[] {
  const all = [
    atRest(rows),
    noOutput(study),
    warmUp(study),
    shortWindow(study) ?? earlyWindow(study),
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

function warmUp(study: Omit<RunStudy, 'warnings'>): Warning | undefined {
  if (study.warmUp.settled) return undefined
  return {
    code: 'warm-up not over',
    text: `The output has not settled within the first half of the run; the window starts at ${round(study.warmUp.cutHours)} h all the same.`,
    hint: 'Run more days.',
  }
}

function shortWindow(study: Omit<RunStudy, 'warnings'>): Warning | undefined {
  const stay = study.throughputHours.p95
  if (stay.n === 0 || study.warmUp.windowHours >= 3 * stay.mean) return undefined
  return {
    code: 'short window',
    text: `The measured ${round(study.warmUp.windowHours)} h are short against the time a wafer spends in the line (95 % within ${round(stay.mean)} h).`,
    hint: 'Run more days.',
  }
}

/** What leaves before the line has filled was quicker than what follows. */
function earlyWindow({ warmUp, throughputHours }: Omit<RunStudy, 'warnings'>): Warning | undefined {
  const { mean, n } = throughputHours.mean
  if (n === 0 || !beginsEarly({ ...warmUp, stayHours: mean })) return undefined
  return {
    code: 'early window',
    text: `The warm-up that was cut, ${round(warmUp.cutHours)} h, is shorter than the ${round(mean)} h that a cell spends in the line: the first to leave were the quickest, so that time reads too short, and more wafers start than leave.`,
    hint: 'Run more days.',
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

function round(hours: number): string {
  return hours >= 100 ? hours.toFixed(0) : hours.toPrecision(3)
}
