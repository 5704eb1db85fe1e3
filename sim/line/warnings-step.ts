import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatNumber, formatQuantity, quantity } from '../base/quantity.ts'
import { efficiencyAt } from './capacity.ts'
import { meanTime } from './means.ts'
import { allPlaces, type Place } from './outline.ts'
import { pacesOf } from './pace.ts'
import { setUpShare } from './rates.ts'
import { type Site, siteOf } from './site.ts'
import { upTime } from './stop-times.ts'
import type { Line, Step, Stop, WaferKind } from './types.ts'

/** More breakage than any step of a running line has (common practice, no source). */
const MUCH_BREAKAGE = 0.05
/** More set-up wafers than any step of a running line needs (common practice, no source). */
const MUCH_SET_UP = 0.05

/** Probable mistakes in the steps by themselves. */
export function warningsOfSteps(line: Line, route: readonly Place[]): Problem[] {
  const made = efficiencyAt(line)
  const site = siteOf(line)
  return allPlaces(route).flatMap(({ item, path }) =>
    item && 'step' in item ? warnOfStep(line, item, path, made.get(item.step) ?? 0, site) : [],
  )
}

/** @param made mean efficiency of the wafers that come to it, fraction */
function warnOfStep({ wafer }: Line, step: Step, path: Path, made: number, site: Site): Problem[] {
  const stops = (step.stops ?? []).flatMap((stop, index) => {
    const stopPath = [...path, 'stops', index, { name: stop.stop }]
    return [...warnOfLength(step, stop, stopPath), ...warnOfLoss(step, stop, stopPath)]
  })
  return [
    ...warnOfBreakage(step, path),
    ...warnOfSetUp(step, path, site),
    ...(wafer ? warnOfTest(step, path, made) : []),
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

function warnOfSetUp(step: Step, path: Path, site: Site): Problem[] {
  const share = setUpShare(step, site)
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

function warnOfTest({ test }: Step, path: Path, made: number): Problem[] {
  if (!test) return []
  const warnings: Problem[] = []
  const { rejectBelow, reworkBelow, noise = '0 %' } = test
  if (rejectBelow !== undefined && quantity('share', rejectBelow) >= made - 1e-12)
    warnings.push(
      problemAt(
        [...path, 'test', 'rejectBelow'],
        quoted(rejectBelow),
        `less than the mean efficiency, ${formatQuantity('share', made)}`,
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
