import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatNumber, formatQuantity, quantity } from '../base/quantity.ts'
import { meanTime } from './means.ts'
import type { Place } from './outline.ts'
import { pacesOf, setUpShare, upTime } from './rates.ts'
import type { Line, RunDefaults, Step, Stop, WaferKind } from './types.ts'

export const LEFT_TO_LUCK = 'what it costs is left to luck'
/** Fewer occurrences than this in all runs leave a stop to luck. */
export const FEWEST_STOPS = 5
/** More breakage than any step of a running line has (common practice, no source). */
const MUCH_BREAKAGE = 0.05
/** More set-up wafers than any step of a running line needs (common practice, no source). */
const MUCH_SET_UP = 0.05

/** Probable mistakes in the steps by themselves. */
export function warningsOfSteps(line: Line, route: readonly Place[], lanes = 1): Problem[] {
  return route.flatMap(({ item, path, lanes: inner }) => {
    if (item && 'step' in item) return warnOfStep(line, item, path, lanes)
    return inner.flatMap(lane => warningsOfSteps(line, lane.route, lanes * lane.names.length))
  })
}

function warnOfStep({ wafer, run = {} }: Line, step: Step, path: Path, lanes: number): Problem[] {
  const stops = (step.stops ?? []).flatMap((stop, index) => {
    const stopPath = [...path, 'stops', index, { name: stop.stop }]
    return [
      ...warnOfLength(step, stop, stopPath),
      ...warnOfLoss(step, stop, stopPath),
      ...warnOfRareness(step, stop, stopPath, lanes, run),
    ]
  })
  return [
    ...warnOfBreakage(step, path),
    ...warnOfSetUp(step, path),
    ...warnOfTest(step, path, wafer),
    ...warnOfPitch(step, path, wafer),
    ...stops,
  ]
}

function warnOfBreakage({ breakage }: Step, path: Path): Problem[] {
  const share = typeof breakage === 'string' ? breakage : breakage?.share
  if (share === undefined || quantity('share', share) <= MUCH_BREAKAGE) return []
  return [
    problemAt(
      [...path, 'breakage'],
      quoted(share),
      'at most 5 %',
      'steps break well below one wafer in a hundred',
    ),
  ]
}

function warnOfSetUp(step: Step, path: Path): Problem[] {
  const share = setUpShare(step)
  if (share <= MUCH_SET_UP) return []
  return [
    problemAt(
      [...path, 'stops'],
      `${formatNumber(Number((share * 100).toPrecision(2)))} % of all wafers as set-up wafers`,
      'at most 5 %',
      'that many are lost after the stops',
    ),
  ]
}

function warnOfTest({ test }: Step, path: Path, wafer: WaferKind | undefined): Problem[] {
  if (!test || !wafer) return []
  const warnings: Problem[] = []
  const { rejectBelow, reworkBelow, noise = '0 %' } = test
  const mean = wafer.efficiency.mean
  if (rejectBelow !== undefined && quantity('share', rejectBelow) >= quantity('share', mean))
    warnings.push(
      problemAt(
        [...path, 'test', 'rejectBelow'],
        quoted(rejectBelow),
        `less than the mean efficiency, ${mean}`,
        'half of all cells or more are rejected',
      ),
    )
  if (reworkBelow !== undefined && quantity('share', noise) === 0)
    warnings.push(
      problemAt(
        [...path, 'test', 'reworkBelow'],
        'a test without noise',
        'some noise',
        'a wafer that comes back measures the same again',
      ),
    )
  return warnings
}

/** Wafers on a belt cannot lie on one another. Round corners take little off the square. */
function warnOfPitch({ belt }: Step, path: Path, wafer: WaferKind | undefined): Problem[] {
  if (!wafer || belt?.pitch === undefined) return []
  const edge = Math.sqrt(quantity('area', wafer.area))
  if (quantity('length', belt.pitch) >= 0.98 * edge) return []
  return [
    problemAt(
      [...path, 'belt', 'pitch'],
      quoted(belt.pitch),
      `at least the edge of the wafer, about ${formatQuantity('length', edge)}`,
      'the pitch counts from one wafer to the next',
    ),
  ]
}

function warnOfLength(step: Step, stop: Stop, path: Path): Problem[] {
  const up = Math.min(...pacesOf(step).map(pace => upTime(stop, pace)))
  const lasts = meanTime(stop.lasts)
  if (lasts <= up) return []
  const expected = `less than the time between two of them, ${formatQuantity('time', up)}`
  return [
    problemAt(
      [...path, 'lasts'],
      `${formatQuantity('time', lasts)} on average`,
      expected,
      'the tool is down most of the time',
    ),
  ]
}

function warnOfLoss(step: Step, { inside }: Stop, path: Path): Problem[] {
  if (typeof inside !== 'object' || step.belt) return []
  const most = typeof inside.lose === 'number' ? inside.lose : inside.lose[1]
  const holds = step.batch?.load ?? 1
  if (most <= holds) return []
  return [problemAt([...path, 'inside', 'lose'], String(most), `at most ${holds}`, 'the tool holds no more')]
}

function warnOfRareness(
  step: Step,
  stop: Stop,
  path: Path,
  lanes: number,
  { days, replications }: RunDefaults,
): Problem[] {
  // What comes after idleness is as rare as the idleness.
  if (days === undefined || replications === undefined || stop.afterIdle !== undefined) return []
  const perSecond = pacesOf(step).reduce(
    (sum, pace) => sum + (pace.units * lanes) / (upTime(stop, pace) + meanTime(stop.lasts)),
    0,
  )
  const expected = perSecond * days * 86_400 * replications
  if (expected >= FEWEST_STOPS) return []
  return [
    problemAt(
      [...path, stop.at ? 'at' : 'every'],
      `about ${formatNumber(Number(expected.toPrecision(2)))} such stops in all runs together`,
      `${FEWEST_STOPS} or more, by longer or more runs`,
      LEFT_TO_LUCK,
    ),
  ]
}
