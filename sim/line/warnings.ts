import { type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatQuantity, quantity } from '../base/quantity.ts'
import { capacityTable, feedRate, lineYield } from './capacity.ts'
import { warnOfMoney } from './check-money.ts'
import { followersOf } from './followers.ts'
import { allItems } from './items.ts'
import { meanCount } from './means.ts'
import { outlineOf } from './outline.ts'
import { resolvedLine } from './recipes.ts'
import type { Line, Step } from './types.ts'
import { describeVariant } from './vary.ts'
import { warningsOfPlaces } from './warnings-flow.ts'
import { warningsOfMoney } from './warnings-money.ts'
import { warningsOfRules } from './warnings-more.ts'
import { warningsOfPeople } from './warnings-people.ts'
import { warningsOfRenewals } from './warnings-renewals.ts'
import { warningsOfRuns } from './warnings-run.ts'
import { warningsOfSteps } from './warnings-step.ts'

/** What is probably a mistake in a line without problems, or will surprise its planner. */
export function warningsOf(line: Line): Problem[] {
  const route = outlineOf(line.route)
  return [
    ...warnOfTarget(line),
    ...warnOfFeed(line),
    ...warnOfWafer(line),
    ...warnOfBins(line),
    ...warningsOfMoney(line),
    ...warnOfMoney(line),
    ...warningsOfPlaces(line, route, followersOf(route)),
    ...warningsOfPeople(line, route),
    ...warningsOfRules(line, route),
    ...warningsOfSteps(line, route),
    ...warningsOfRenewals(line, route),
    ...warningsOfRuns(line, route),
    ...Object.keys(line.variants ?? {})
      .filter(name => describeVariant(line, name).length === 0)
      .map(name =>
        problemAt(
          ['variants', { name }],
          'a variant that changes nothing',
          'a value other than that of the line',
          'its results are those of the line itself',
        ),
      ),
  ]
}

const perHour = (wafersPerSecond: number) => formatQuantity('rate', wafersPerSecond)

/** A target that is met to a rounding is met. */
const BARELY = 1 - 1e-9

/** The target against what the weakest step and the feed allow on paper. */
function warnOfTarget(line: Line): Problem[] {
  if (line.target === undefined) return []
  const target = quantity('rate', line.target)
  const found = quoted(line.target)
  const lowest = capacityTable(line).find(row => row.lowest)
  const warnings: Problem[] = []
  if (lowest && lowest.goodPerHour / 3600 < target * BARELY)
    warnings.push(
      problemAt(
        ['target'],
        found,
        `at most what ${quoted(lowest.step)} allows on paper, ${perHour(lowest.goodPerHour / 3600)}`,
        `net of its stops, yields and rework${lowest.openShare < 1 ? ', and of closed hours' : ''}; waiting comes on top`,
      ),
    )
  const fed = feedRate(line) * lineYield(line)
  if (fed < target * BARELY)
    warnings.push(
      problemAt(
        ['target'],
        found,
        `at most what the feed allows, ${perHour(fed)}`,
        'its wafers less what the line loses',
      ),
    )
  return warnings
}

function warnOfFeed(line: Line): Problem[] {
  const { feed, route } = line
  if (feed === undefined || typeof feed === 'string') return []
  const warnings: Problem[] = []
  const fullLoads = allItems(resolvedLine(line).route).filter(
    (item): item is Step => 'step' in item && item.batch !== undefined && item.batch.least === undefined,
  )
  if (feed.wafers !== undefined)
    for (const { step, batch } of fullLoads)
      warnings.push(
        problemAt(
          ['feed', 'wafers'],
          String(feed.wafers),
          `"least" in the batch of ${quoted(step)}`,
          `it starts full loads only, so up to ${(batch?.load ?? 0) - 1} wafers stay before it at the end`,
        ),
      )
  const filled = allItems(route).flatMap(item =>
    'carriers' in item && item.longestWait === undefined ? [item] : [],
  )
  if (feed.wafers !== undefined)
    for (const { carriers, holds } of filled)
      warnings.push(
        problemAt(
          ['feed', 'wafers'],
          String(feed.wafers),
          `"longestWait" in ${quoted(carriers)}`,
          `they go full only, so up to ${holds - 1} wafers stay in one at the end`,
        ),
      )
  const first = route[0]
  const carrier = meanCount(feed.carrier ?? 1)
  if (
    feed.whenFull === 'turn away' &&
    'buffer' in first &&
    first.capacity !== 'unlimited' &&
    carrier > first.capacity
  )
    warnings.push(
      problemAt(
        ['feed', 'carrier'],
        `${carrier} wafers together`,
        `at most the places of ${quoted(first.buffer)}, ${first.capacity}`,
        'what finds no place is turned away',
      ),
    )
  return warnings
}

/** The limit of a single junction of silicon: Richter, Hermle and Glunz 2013, IEEE J. Photovoltaics 3, 1184-1191 (from memory). */
const SILICON_LIMIT = 0.294

function warnOfWafer({ wafer }: Line): Problem[] {
  if (!wafer) return []
  const warnings: Problem[] = []
  const mean = quantity('share', wafer.efficiency.mean)
  const meanPath = ['wafer', 'efficiency', 'mean']
  if (mean > SILICON_LIMIT)
    warnings.push(
      problemAt(
        meanPath,
        quoted(wafer.efficiency.mean),
        'at most 29.4 %',
        'a single junction of silicon gives no more',
      ),
    )
  if (mean < 0.1)
    warnings.push(
      problemAt(
        meanPath,
        quoted(wafer.efficiency.mean),
        'at least 10 %',
        'crystalline silicon cells reach 18 % to 27 %',
      ),
    )
  const area = quantity('area', wafer.area)
  if (area < 0.005 || area > 0.1)
    warnings.push(
      problemAt(
        ['wafer', 'area'],
        quoted(wafer.area),
        'from 50 cm2 to 1000 cm2',
        'a wafer of 182 mm edge has 330 cm2',
      ),
    )
  return warnings
}

/** Bins that most cells miss sort nothing. */
function warnOfBins({ bins, wafer }: Line): Problem[] {
  if (!bins || !wafer) return []
  const mean = quantity('share', wafer.efficiency.mean)
  const first = quantity('share', bins.first)
  const top = first + quantity('share', bins.width) * bins.count
  if (mean >= first && mean <= top) return []
  const range = `${bins.first} to ${formatQuantity('share', top)}`
  return [
    problemAt(
      ['bins'],
      `bins from ${range}`,
      `bins around the mean efficiency, ${wafer.efficiency.mean}`,
      `most cells fall ${mean < first ? 'below the lowest' : 'into the highest'}`,
    ),
  ]
}
