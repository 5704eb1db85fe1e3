import { type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { quantity } from '../base/quantity.ts'
import type { Place } from './outline.ts'
import type { Step } from './types.ts'

/** Every step must be reached by wafers, and good wafers must leave the line. */
export function checkReach(route: readonly Place[]): Problem[] {
  const within = checkWithin(route)
  const last = route.at(-1)
  const why = last && whyNone(last)
  if (!last || why === undefined) return within
  return [
    ...within,
    problemAt(last.path, 'a last item that passes no wafer', 'a way for good wafers to leave the line', why),
  ]
}

/** Unreachable items within a route, lanes included. */
function checkWithin(route: readonly Place[]): Problem[] {
  const problems = route.flatMap(place => place.lanes.flatMap(lane => checkWithin(lane.route)))
  route.slice(1).forEach((place, index) => {
    const why = whyNone(route[index])
    if (why === undefined) return
    const expected = 'a way for wafers to come here'
    problems.push(
      problemAt(
        place.path,
        `an unreachable ${place.kind ?? 'item'}`,
        expected,
        `${quoted(route[index].name ?? '')} before it passes none: ${why}`,
      ),
    )
  })
  return problems
}

/** Why no wafer passes an item; undefined when some do, or when the item could not be read. */
function whyNone({ item, lanes }: Place): string | undefined {
  if (item && 'step' in item) return whyStepPassesNone(item)
  const reasons = lanes.map(lane => lane.route.map(whyNone).find(why => why !== undefined))
  return reasons.length > 0 && reasons.every(why => why !== undefined) ? reasons[0] : undefined
}

function whyStepPassesNone({ breakage = '0 %', reject = '0 %', rework }: Step): string | undefined {
  const causes = [
    { name: 'breakage', share: typeof breakage === 'string' ? breakage : breakage.share },
    { name: 'reject', share: reject },
    { name: 'rework', share: rework && rework.then !== 'pass' ? rework.share : '0 %' },
  ]
  const full = causes
    .filter(({ share }) => quantity('share', share) === 1)
    .map(({ name, share }) => `${name} ${share}`)
  return full.length > 0 ? wordList(full, 'and') : undefined
}
