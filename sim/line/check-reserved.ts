import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { allPlaces, type Place } from './outline.ts'
import { AS_IT_IS, HAND_OVER, IN_THE_LINE, latePlace, OWN_STOPS, reworkPlace } from './reserved-names.ts'

type Fields = Readonly<Record<string, unknown>>

/** Names that results would show for two things: those that the program gives itself, and those of steps in lanes. */
export function checkReserved(line: Fields, route: readonly Place[]): Problem[] {
  const places = allPlaces(route)
  const events = Array.isArray(line.events) ? line.events : []
  const variants = isPlainObject(line.variants) ? Object.keys(line.variants) : []
  const ofPlaces = placeNames(places)
  return [
    ...places.flatMap(checkStopNames),
    ...events.flatMap((event, index) => {
      const name = event?.event
      return refused(name, OWN_NAMES, ['events', index, { name }, 'event'])
    }),
    ...places.flatMap(({ name, kind, path }) => refused(name, ofPlaces, [...path, kind ?? ''])),
    ...variants.flatMap(name => refused(name, [AS_IT_IS], ['variants', { name }])),
    ...checkLaneNames(route),
  ]
}

const OWN_NAMES: readonly string[] = Object.values(OWN_STOPS)

function checkStopNames({ item, path }: Place): Problem[] {
  const stops = item && 'step' in item ? (item.stops ?? []) : []
  return stops.flatMap(({ stop }, index) =>
    refused(stop, OWN_NAMES, [...path, 'stops', index, { name: stop }, 'stop']),
  )
}

function placeNames(places: readonly Place[]): readonly string[] {
  const steps = places.flatMap(({ kind, name }) => (kind === 'step' && name !== undefined ? [name] : []))
  return [HAND_OVER, IN_THE_LINE, ...steps.flatMap(step => [reworkPlace(step), latePlace(step)])]
}

function refused(name: unknown, reserved: readonly string[], path: Path): Problem[] {
  if (typeof name !== 'string' || !reserved.includes(name)) return []
  return [problemAt(path, quoted(name), 'another name', 'the results call something else so')]
}

/** A step `print` in lane `A` is known as `A print`, to reports and to its random numbers. */
function checkLaneNames(route: readonly Place[]): Problem[] {
  const known = new Map<string, Place>()
  const problems: Problem[] = []
  const walk = (part: readonly Place[], lanes: readonly string[]) => {
    for (const place of part) {
      const { name, kind, path } = place
      for (const lane of lanes) {
        if (name === undefined || kind === 'group') continue
        const full = `${lane}${name}`
        const other = known.get(full)
        if (other === undefined) known.set(full, place)
        else if (other !== place && other.name !== name)
          problems.push(
            problemAt(
              [...path, kind ?? ''],
              quoted(name),
              'another name',
              `with its lane it is ${quoted(full)}, as another ${other.kind} is`,
            ),
          )
      }
      for (const inner of place.lanes)
        walk(
          inner.route,
          lanes.flatMap(lane => inner.names.map(own => `${lane}${own} `)),
        )
    }
  }
  walk(route, [''])
  return problems
}
