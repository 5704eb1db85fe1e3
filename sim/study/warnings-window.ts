import { formatNumber, formatQuantity } from '../base/quantity.ts'
import { beginsEarly } from './designs/window.ts'
import type { RunStudy, Warning } from './run-study.ts'

type Figures = Omit<RunStudy, 'warnings'>

/** What the window that is measured leaves out, or should have left out. @param patterned hours or days of the line differ by the clock, so that only whole days or weeks compare */
export function windowWarnings(study: Figures, patterned: boolean): (Warning | undefined)[] {
  const early = shortWindow(study) ?? earlyWindow(study)
  return [warmUp(study), early ?? (patterned ? undefined : luckyCut(study))]
}

function warmUp(study: Figures): Warning | undefined {
  if (study.warmUp.settled) return undefined
  return {
    code: 'warm-up not over',
    text: `The output has not settled within the first half of the run; the window starts at ${roundHours(study.warmUp.cutHours)} h all the same.`,
    hint: 'Run more days.',
  }
}

function shortWindow(study: Figures): Warning | undefined {
  const stay = study.throughputHours.p95
  if (stay.n === 0 || study.warmUp.windowHours >= 3 * stay.mean) return undefined
  return {
    code: 'short window',
    text: `The measured ${roundHours(study.warmUp.windowHours)} h are short against the time a wafer spends in the line (95 % within ${roundHours(stay.mean)} h).`,
    hint: 'Run more days.',
  }
}

/** What leaves before the line has filled was quicker than what follows. */
function earlyWindow({ warmUp, throughputHours }: Figures): Warning | undefined {
  const { mean, n } = throughputHours.mean
  if (n === 0 || !beginsEarly({ ...warmUp, stayHours: mean })) return undefined
  return {
    code: 'early window',
    text: `The warm-up that was cut, ${roundHours(warmUp.cutHours)} h, is shorter than the ${roundHours(mean)} h that a cell spends in the line: the first to leave were the quickest, so that time reads too short, and good output may read too low while more wafers start than leave.`,
    hint: hintOfDays(warmUp),
  }
}

function hintOfDays({ cutHours, foundHours }: Figures['warmUp']): string {
  if (cutHours >= foundHours) return 'Run more days.'
  return `Run more days: MSER-5 would cut ${roundHours(foundHours)} h, but of this line only whole days or weeks are alike, and at most half of a run is cut.`
}

/** The line has long filled when cells have been through it so many times over. */
const FILLED = 5
/** By so much of the output a cut may differ from one that only lets the line fill before it is told. */
const DIFFERS = 0.005

/**
 * The rule cuts what differs from the rest, and in short runs that may be a stop as well as the
 * filling: then what is measured has fewer stops than there will be.
 */
function luckyCut({ warmUp: cut, throughputHours, series, goodOutput }: Figures): Warning | undefined {
  const stay = throughputHours.p95
  if (stay.n === 0 || cut.cutHours > cut.foundHours) return undefined
  const filled = FILLED * stay.mean
  if (cut.cutHours <= 2 * filled) return undefined
  const later = series.goodPerHour.filter((_, i) => series.hours[i] > filled)
  const whole = later.reduce((sum, good) => sum + good, 0) / later.length
  const { mean, low = mean } = goodOutput.perHour
  if (mean - whole < DIFFERS * mean || mean - whole < (mean - low) / 4) return undefined
  return {
    code: 'lucky cut',
    text: `The warm-up that was cut, ${roundHours(cut.cutHours)} h, is far longer than the ${time(stay.mean)} in which 95 % of the cells are through: stops that came early in the runs may have been taken for it. With all but the first ${time(filled)} the line makes ${rate(whole)} good cells/h.`,
    hint: 'Run more days.',
  }
}

function time(hours: number): string {
  return formatQuantity('time', Number((3600 * hours).toPrecision(2)))
}

/** Cells an hour, as a reader wants them. */
export function rate(perHour: number): string {
  return formatNumber(Number(perHour.toPrecision(4)))
}

export function roundHours(hours: number): string {
  return hours >= 100 ? hours.toFixed(0) : hours.toPrecision(3)
}
