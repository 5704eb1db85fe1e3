import { type Problem, problemAt, quoted } from '../base/problems.ts'
import { checkCarrierPlaces } from './check-carrier-places.ts'
import { checkEarlier } from './check-earlier.ts'
import { checkLoadCaps } from './check-load-cap.ts'
import { checkReach } from './check-reach.ts'
import { type Follower, followersOf } from './followers.ts'
import { allPlaces, isStore, type Place } from './outline.ts'
import type { Batch, Belt } from './types.ts'

/** What cannot be between items that are each right by themselves. */
export function checkFlow(route: readonly Place[]): Problem[] {
  return [
    ...checkNames(route),
    ...checkEnds(route, 'nothing follows'),
    ...checkTools(route, followersOf(route)),
    ...checkSplits(route),
    ...checkStacks(route),
    ...checkCarrierPlaces(route),
    ...checkEarlier(route),
    ...checkReach(route),
    ...checkLoadCaps(route),
  ]
}

/** All items of a route share one space of names: variants and reports find them by name. */
function checkNames(route: readonly Place[]): Problem[] {
  const first = new Map<string, Place>()
  const problems: Problem[] = []
  for (const place of allPlaces(route)) {
    const { name, kind, path } = place
    if (name === undefined || kind === undefined) continue
    const other = first.get(name)
    if (name === 'line')
      problems.push(
        problemAt([...path, kind], '"line"', 'another name', 'variants mean the line itself by it'),
      )
    if (other)
      problems.push(
        problemAt([...path, kind], quoted(name), 'a name of its own', `another ${other.kind} has it`),
      )
    else first.set(name, place)
  }
  return problems
}

/** A route ends with work: wafers would never leave a store at the end of the line. A lane may end with one. */
function checkEnds(route: readonly Place[], after: 'nothing follows' | 'more follows'): Problem[] {
  const problems = route.flatMap((place, index) => {
    const behind = index + 1 < route.length ? 'more follows' : after
    return place.lanes.flatMap(lane => checkEnds(lane.route, behind))
  })
  const last = route.at(-1)
  // Carriers at the end have nothing to be emptied into: that is told where they stand.
  if (!last || last.kind === 'carriers' || !isStore(last.kind)) return problems
  if (after === 'nothing follows')
    problems.push(
      problemAt(
        last.path,
        `a ${last.kind} at the end`,
        'a step or a group as the last item',
        'nothing takes wafers out of it',
      ),
    )
  else if (route.length === 1 || isStore(route.at(-2)?.kind))
    problems.push(
      problemAt(last.path, `a ${last.kind} at the end`, 'a step or a group before the last store of a lane'),
    )
  return problems
}

/** Rules for a tool and what stands right before or behind it. */
function checkTools(route: readonly Place[], followers: ReadonlyMap<Place, Follower>): Problem[] {
  return route.flatMap((place, index) => {
    if (!place.item || !('step' in place.item))
      return place.lanes.flatMap(lane => checkTools(lane.route, followers))
    const { batch, belt } = place.item
    if (batch) return checkLoads(place, batch, route[index - 1])
    return belt ? checkPlaces(place, belt, followers.get(place)) : []
  })
}

/** Only a tool takes the newest wafer: where a hand-over stands behind a store, the order would be lost. */
function checkStacks(route: readonly Place[]): Problem[] {
  return route.flatMap(({ item, path, lanes }, index) => {
    const inner = lanes.flatMap(lane => checkStacks(lane.route))
    if (!item || !('buffer' in item) || item.order !== 'last in, first out') return inner
    if (route[index + 1]?.kind === 'step') return inner
    const hint = 'the tools behind it take the newest wafer; a hand-over to a store or to lanes does not'
    return [problemAt([...path, 'order'], quoted(item.order), 'a step right behind the buffer', hint)]
  })
}

/** The fill of an unlimited store says nothing of how full it is. */
function checkSplits(route: readonly Place[]): Problem[] {
  return route.flatMap(({ item, lanes }) => {
    const inner = lanes.flatMap(lane => checkSplits(lane.route))
    if (!item || !('group' in item) || item.split === 'in turn') return inner
    const endless = lanes.flatMap(({ route: [first] }) =>
      first?.item && 'buffer' in first.item && first.item.capacity === 'unlimited' ? [first] : [],
    )
    const hint = 'the lane that is least full gets the next wafer, so each needs a size'
    const wanted = 'a number of wafers, or split: "in turn"'
    return [
      ...inner,
      ...endless.map(({ path }) => problemAt([...path, 'capacity'], '"unlimited"', wanted, hint)),
    ]
  })
}

/** A load is collected in the buffer right before the tool, from its front. */
function checkLoads({ path, name = '' }: Place, { load }: Batch, before: Place | undefined): Problem[] {
  const wanted = `a buffer with a capacity of at least ${load} right before it`
  const hint = 'a load is collected there'
  if (before && before.item === undefined) return []
  if (before?.kind !== 'buffer' || !before.item || !('buffer' in before.item)) {
    const found = before ? `the ${before.kind} ${quoted(before.name ?? '')} before it` : 'nothing before it'
    const inLane = path.includes('lanes') || path.includes('each')
    return [problemAt(path, found, wanted, inLane && !before ? `${hint}; each lane needs its own` : hint)]
  }
  const { capacity, order, buffer } = before.item
  const problems: Problem[] = []
  if (capacity !== 'unlimited' && capacity < load)
    problems.push(
      problemAt(
        [...before.path, 'capacity'],
        String(capacity),
        `at least ${load}, or "unlimited"`,
        `${quoted(name)} behind it takes loads of ${load}`,
      ),
    )
  if (order === 'last in, first out')
    problems.push(
      problemAt(
        [...before.path, 'order'],
        quoted(order),
        '"first in, first out"',
        `${quoted(name)} behind ${quoted(buffer)} takes whole loads, which have no last wafer`,
      ),
    )
  return problems
}

/** A belt that runs out takes a wafer in only while it finds free what it must keep free. */
function checkPlaces(
  { path, name = '' }: Place,
  { keepFree = 0 }: Belt,
  follower: Follower | undefined,
): Problem[] {
  if (!follower || keepFree <= follower.places) return []
  const hint = `${quoted(name)} could never take a wafer in; places behind it, ${follower.where}: ${follower.places}`
  return [problemAt([...path, 'belt', 'keepFree'], String(keepFree), `at most ${follower.places}`, hint)]
}
