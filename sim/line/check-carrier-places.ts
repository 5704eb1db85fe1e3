import { type Problem, problemAt, quoted } from '../base/problems.ts'
import type { Place } from './outline.ts'

/** Carriers are filled by a tool or out of a store, and emptied by or into one. */
export function checkCarrierPlaces(route: readonly Place[]): Problem[] {
  return route.flatMap((place, index) => {
    const inner = place.lanes.flatMap(lane => checkCarrierPlaces(lane.route))
    if (place.kind !== 'carriers') return inner
    return [
      ...inner,
      ...checkNeighbour(place, route[index - 1], 'before'),
      // What stands between two carriers is told of once.
      ...(route[index + 1]?.kind === 'carriers' ? [] : checkNeighbour(place, route[index + 1], 'behind')),
    ]
  })
}

function checkNeighbour({ path }: Place, other: Place | undefined, where: 'before' | 'behind'): Problem[] {
  if (other && other.kind !== 'carriers' && other.kind !== 'group') return []
  const found = other
    ? `the ${other.kind} ${quoted(other.name ?? '')} ${where} them`
    : `nothing ${where} them`
  const work = where === 'before' ? 'they are filled from it' : 'they are emptied into it'
  return [problemAt(path, found, `a step, a buffer or a conveyor right ${where} them`, work)]
}
