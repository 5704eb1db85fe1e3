import { nearest } from '../base/nearest.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { allPlaces, type Place } from './outline.ts'
import type { TimeLimit } from './types.ts'

/**
 * Steps that another step names as coming before it: rework and late wafers go back to one
 * that every wafer has come through, and time limits count from one.
 */
export function checkEarlier(route: readonly Place[]): Problem[] {
  const all = allPlaces(route)
  return checkRoute(route, [])

  /** @param before places that each wafer has come through before this route */
  function checkRoute(part: readonly Place[], before: readonly Place[]): Problem[] {
    return part.flatMap((place, index) => {
      const passed = [...before, ...part.slice(0, index)]
      return [
        ...checkRework(place, passed),
        ...checkLimits(place, passed),
        ...place.lanes.flatMap(lane => checkRoute(lane.route, passed)),
      ]
    })
  }

  function checkRework(place: Place, passed: readonly Place[]): Problem[] {
    const to = place.item && 'step' in place.item ? place.item.rework?.to : undefined
    const steps = stepNames(passed)
    if (to === undefined || to === place.name || steps.includes(to)) return []
    const allowed = wordList([...steps.slice(-5), place.name ?? ''].map(quoted), 'or')
    const expected = `${steps.length > 0 ? 'this step or an earlier one' : 'this step, as no other comes before it'}: ${allowed}`
    const hint = whyNot(place, to, [...steps, place.name ?? ''])
    return [problemAt([...place.path, 'rework', 'to'], quoted(to), expected, hint)]
  }

  function checkLimits(place: Place, passed: readonly Place[]): Problem[] {
    const limits = place.item && 'step' in place.item ? (place.item.timeLimits ?? []) : []
    return limits.flatMap((limit, index) => {
      const path = [...place.path, 'timeLimits', index]
      const first = limits.findIndex(({ after }) => after === limit.after)
      if (first < index)
        return [
          problemAt(
            [...path, 'after'],
            quoted(limit.after),
            'one limit after a step',
            `timeLimits[${first}] has it`,
          ),
        ]
      // Lanes that wafers may have come through count too: a wafer that did not has no such limit.
      const after = checkStep(limit.after, place, stepNames(allPlaces(passed)), [...path, 'after'])
      return after.length > 0 ? after : checkLate(limit, place, stepNames(passed), path)
    })
  }

  function checkLate(
    { late, after }: TimeLimit,
    place: Place,
    steps: readonly string[],
    path: Path,
  ): Problem[] {
    if (typeof late !== 'object' || !('to' in late)) return []
    const toPath = [...path, 'late', 'to']
    const wrong = checkStep(late.to, place, steps, toPath)
    if (wrong.length > 0) return wrong
    const at = (name: string) => all.findIndex(other => other.name === name)
    if (at(late.to) <= at(after)) return []
    const expected = `${quoted(after)} or a step before it`
    return [problemAt(toPath, quoted(late.to), expected, 'the time counts anew only after that step')]
  }

  function checkStep(name: string, place: Place, steps: readonly string[], path: Path): Problem[] {
    if (steps.includes(name)) return []
    const expected =
      steps.length > 0
        ? `an earlier step: ${wordList(steps.slice(-5).map(quoted), 'or')}`
        : 'an earlier step, but none comes before this one'
    return [problemAt(path, quoted(name), expected, whyNot(place, name, steps))]
  }

  function whyNot(place: Place, name: string, allowed: readonly string[]): string | undefined {
    const target = all.find(other => other.name === name)
    if (target === undefined) {
      const near = nearest(name, allowed)
      return near === undefined ? undefined : `did you mean "${near}"?`
    }
    if (target === place) return `${quoted(name)} is this step itself`
    if (target.kind !== 'step') return `${quoted(name)} is a ${target.kind}`
    return all.indexOf(target) > all.indexOf(place)
      ? `${quoted(name)} comes later`
      : `${quoted(name)} is in another lane`
  }
}

function stepNames(places: readonly Place[]): readonly string[] {
  return places.flatMap(({ kind, name }) => (kind === 'step' && name !== undefined ? [name] : []))
}
