import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { timeBetween } from './availability.ts'
import { allPlaces, type Place } from './outline.ts'
import { pacesOf } from './pace.ts'
import { isRenewed } from './renewals.ts'
import { type Site, siteOf } from './site.ts'
import type { Line, Step, Stop } from './types.ts'

/** Probable mistakes in what stops prevent. */
export function warningsOfRenewals(line: Line, route: readonly Place[]): Problem[] {
  const site = siteOf(line)
  return allPlaces(route).flatMap(({ item, path }) => {
    if (!item || !('step' in item)) return []
    return (item.stops ?? []).flatMap((stop, index) => {
      const stopPath = [...path, 'stops', index, { name: stop.stop }]
      return [...warnOfRenewing(item, stop, stopPath), ...warnOfNever(item, stop, stopPath, site)]
    })
  })
}

function warnOfRenewing(step: Step, stop: Stop, path: Path): Problem[] {
  const named = (name: string) => (step.stops ?? []).find(other => other.stop === name)
  const { renews = [] } = stop
  const each = renews.flatMap((name, index) => {
    const other = named(name)
    const why = other && whyInVain(step, other)
    return why === undefined ? [] : [problemAt([...path, 'renews', index], quoted(name), ...why)]
  })
  const skipped = renews.flatMap(name =>
    (named(name)?.renews ?? [])
      .filter(further => further !== stop.stop && !renews.includes(further))
      .map(further => [name, further] as const),
  )
  const [gap] = skipped
  if (gap === undefined) return each
  const [name, further] = gap
  const hint = `${quoted(name)} renews it, but what is renewed renews nothing in turn`
  return [...each, problemAt([...path, 'renews'], `${quoted(name)} without ${quoted(further)}`, 'both', hint)]
}

/** Why nothing is won by renewing a stop: what is expected, and why; undefined where something may be. */
function whyInVain({ drift }: Step, { stop, every, at, waits }: Stop): readonly [string, string] | undefined {
  if (drift?.until === stop || waits) return undefined
  if (at) return ['a stop with "every"', 'it comes at its times by the clock all the same']
  if (typeof every !== 'object') return undefined
  if ('exponential' in every || 'geometric' in every)
    return [
      'a stop that wears, such as a weibull with a shape above 1',
      'what has no memory comes as often as without',
    ]
  const early = ('weibull' in every && every.shape < 1) || ('gamma' in every && every.cv > 1)
  return early
    ? [
        'a stop that wears, such as a weibull with a shape above 1',
        'what fails early comes more often when it is renewed',
      ]
    : undefined
}

/** Always renewed before it is due. */
function warnOfNever(step: Step, stop: Stop, path: Path, site: Site): Problem[] {
  if (!isRenewed(step, stop) || stop.afterIdle !== undefined) return []
  if (pacesOf(step).some(pace => timeBetween(step, stop, pace, site) < Infinity)) return []
  return [
    problemAt(
      [...path, 'every'],
      'an interval that is never over',
      'a shorter one, or nothing that renews it so often',
      'what renews it always comes before it is due',
    ),
  ]
}
