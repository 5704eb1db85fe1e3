import { nearest } from '../base/nearest.ts'
import { type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { allPlaces, type Place } from './outline.ts'

/** Rework must go to the step itself or to an earlier one that every wafer here has come through. */
export function checkRework(route: readonly Place[]): Problem[] {
  const all = allPlaces(route)
  return checkRoute(route, [])

  /** @param before places that each wafer has come through before this route */
  function checkRoute(part: readonly Place[], before: readonly Place[]): Problem[] {
    return part.flatMap((place, index) => {
      const passed = [...before, ...part.slice(0, index)]
      return [...checkTarget(place, passed), ...place.lanes.flatMap(lane => checkRoute(lane.route, passed))]
    })
  }

  function checkTarget(place: Place, passed: readonly Place[]): Problem[] {
    const to = place.item && 'step' in place.item ? place.item.rework?.to : undefined
    if (to === undefined || to === place.name) return []
    const steps = passed.flatMap(({ kind, name }) => (kind === 'step' && name !== undefined ? [name] : []))
    if (steps.includes(to)) return []
    const allowed = wordList([...steps.slice(-5), place.name ?? ''].map(quoted), 'or')
    const expected = `${steps.length > 0 ? 'this step or an earlier one' : 'this step, as no other comes before it'}: ${allowed}`
    return [problemAt([...place.path, 'rework', 'to'], quoted(to), expected, whyNot(place, to, steps))]
  }

  function whyNot(place: Place, to: string, steps: readonly string[]): string | undefined {
    const target = all.find(({ name }) => name === to)
    if (target === undefined) {
      const near = nearest(to, [...steps, place.name ?? ''])
      return near === undefined ? undefined : `did you mean "${near}"?`
    }
    if (target.kind !== 'step') return `${quoted(to)} is a ${target.kind}`
    return all.indexOf(target) > all.indexOf(place)
      ? `${quoted(to)} comes later`
      : `${quoted(to)} is in another lane`
  }
}
