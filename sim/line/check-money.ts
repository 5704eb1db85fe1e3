import { nearest } from '../base/nearest.ts'
import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted, wordList } from '../base/problems.ts'
import { laneRoutes, namesOfStops } from './items.ts'
import { allPlaces, type Place } from './outline.ts'
import { resolveRecipe } from './recipes.ts'
import { entriesOf } from './schema-money.ts'
import type { Group, Line } from './types.ts'

type Fields = Readonly<Record<string, unknown>>
type Kind = 'step' | 'buffer' | 'carriers' | 'group' | 'crew' | 'fleet' | 'variant'

const KINDS: Readonly<Record<Kind, string>> = {
  step: 'the name of a step',
  buffer: 'the name of a buffer',
  carriers: 'the name of carriers',
  group: 'the name of a group',
  crew: 'the name of a crew',
  fleet: 'the name of a fleet',
  variant: 'the name of a variant',
}

/** What the blocks `money` and `sizing` say of things that the line does not have. Their form is judged elsewhere. */
export function checkMoney(line: Fields, route: readonly Place[]): Problem[] {
  const names = namesOf(line, route)
  const known = (block: string, key: string, kind: Kind) => {
    // A variant by itself has no variants: what they cost has been looked at with the line.
    if (kind === 'variant' && line.variants === undefined) return []
    const value = (line[block] as Fields | undefined)?.[key]
    return entriesOf(value).flatMap(([name]) => unknownName(name, [block, key], KINDS[kind], names[kind]))
  }
  return [
    ...known('money', 'addedPerWafer', 'step'),
    ...known('money', 'stops', 'step'),
    ...checkStopCosts(line, route),
    ...known('money', 'dummies', 'step'),
    ...known('money', 'tools', 'step'),
    ...known('money', 'places', 'buffer'),
    ...known('money', 'carriers', 'carriers'),
    ...known('money', 'vehicles', 'fleet'),
    ...known('money', 'wages', 'crew'),
    ...known('money', 'variants', 'variant'),
    ...known('sizing', 'tools', 'step'),
    ...known('sizing', 'lanes', 'group'),
    ...known('sizing', 'buffers', 'buffer'),
    ...known('sizing', 'heads', 'crew'),
    ...checkPrice(line),
    ...checkSizing(line, route),
  ]
}

function namesOf(line: Fields, route: readonly Place[]): Readonly<Record<Kind, readonly string[]>> {
  const places = allPlaces(route)
  const ofKind = (kind: string) =>
    places.flatMap(place => (place.kind === kind && place.name !== undefined ? [place.name] : []))
  return {
    step: ofKind('step'),
    buffer: ofKind('buffer'),
    carriers: ofKind('carriers'),
    group: ofKind('group'),
    crew: entriesOf(line.crews).map(([name]) => name),
    fleet: entriesOf(line.fleets).map(([name]) => name),
    variant: entriesOf(line.variants).map(([name]) => name),
  }
}

function unknownName(name: string, path: Path, wanted: string, known: readonly string[]): Problem[] {
  if (known.includes(name)) return []
  const near = nearest(name, known)
  return [problemAt([...path, quoted(name)], 'an unknown name', wanted, near && `did you mean "${near}"?`)]
}

/** Parts are asked for by the names of stops that their step has, or gets by a variant. */
function checkStopCosts({ money, variants }: Fields, route: readonly Place[]): Problem[] {
  const items = new Map(allPlaces(route).map(place => [place.name, place.item]))
  return entriesOf((money as Fields | undefined)?.stops).flatMap(([step, costs]) => {
    const item = items.get(step)
    if (!item || !('step' in item)) return []
    const changed = entriesOf(variants).map(([, changes]) =>
      isPlainObject(changes) ? changes[step] : undefined,
    )
    const names = [item, ...changed].flatMap(namesOfStops)
    return entriesOf(costs).flatMap(([name]) =>
      unknownName(name, ['money', 'stops', quoted(step)], `a stop of ${quoted(step)}`, names),
    )
  })
}

/** A price per watt needs the watts of a cell. */
function checkPrice({ money, wafer }: Fields): Problem[] {
  if (wafer !== undefined || (money as Fields | undefined)?.pricePerWatt === undefined) return []
  const wanted = 'a wafer with area and efficiency, or pricePerCell'
  return [problemAt(['money', 'pricePerWatt'], 'a price per watt without the watts of a cell', wanted)]
}

/** Tools with a cycle time each have no number to change; lanes with a route each cannot be multiplied. */
function checkSizing({ sizing }: Fields, route: readonly Place[]): Problem[] {
  const items = new Map(allPlaces(route).map(place => [place.name, place.item]))
  const { tools, lanes, buffers } = (sizing ?? {}) as Fields
  const own = entriesOf(tools).flatMap(([name]) => {
    const item = items.get(name)
    if (!item || !('step' in item) || !item.cycles) return []
    return [problemAt(['sizing', 'tools', quoted(name)], 'tools with their own cycle times', 'equal tools')]
  })
  const unequal = entriesOf(lanes).flatMap(([name]) => {
    const item = items.get(name)
    if (!item || !('group' in item) || item.each) return []
    return [problemAt(['sizing', 'lanes', quoted(name)], 'lanes with a route each', 'equal lanes, with each')]
  })
  const endless = entriesOf(buffers).flatMap(([name]) => {
    const item = items.get(name)
    if (!item || !('buffer' in item) || item.capacity !== 'unlimited') return []
    return [problemAt(['sizing', 'buffers', quoted(name)], 'an unlimited buffer', 'a buffer with a capacity')]
  })
  return [...own, ...unequal, ...endless]
}

/** What `payback` would have to know of money and does not, one sentence each. */
export function missingMoney(line: Line): string[] {
  const { money } = line
  if (!money) return ['the line has no block "money"']
  const missing: string[] = []
  if (money.discountRate === undefined) missing.push('money has no discountRate')
  if (money.years === undefined) missing.push('money has no years')
  const places = allNames(line)
  const untold = (names: readonly string[], told: object = {}) =>
    names.filter(name => !Object.hasOwn(told, name))
  const list = (names: readonly string[]) => wordList(names.map(quoted), 'and')
  const steps = untold(places.steps, money.tools)
  const dummies = untold(places.dummies, money.dummies)
  const buffers = untold(places.buffers, money.places)
  const carriers = untold(places.carriers, money.carriers)
  const fleets = untold(Object.keys(line.fleets ?? {}), money.vehicles)
  const crews = untold(Object.keys(line.crews ?? {}), money.wages)
  const variants = untold(Object.keys(line.variants ?? {}), money.variants)
  if (steps.length > 0) missing.push(`money.tools has no price of a tool of ${list(steps)}`)
  if (dummies.length > 0) missing.push(`money.dummies has no price of a dummy wafer of ${list(dummies)}`)
  if (buffers.length > 0) missing.push(`money.places has no price of a place in ${list(buffers)}`)
  if (carriers.length > 0) missing.push(`money.carriers has no price of one of ${list(carriers)}`)
  if (fleets.length > 0) missing.push(`money.vehicles has no price of one of ${list(fleets)}`)
  if (crews.length > 0) missing.push(`money.wages has nothing for ${list(crews)}`)
  if (variants.length > 0) missing.push(`money.variants has no price of ${list(variants)}`)
  if (money.fasterRepair === undefined) missing.push('money has no fasterRepair')
  return missing
}

function allNames(line: Line): Readonly<Record<'steps' | 'dummies' | 'buffers' | 'carriers', string[]>> {
  const names = { steps: [], dummies: [], buffers: [], carriers: [] } as ReturnType<typeof allNames>
  const walk = (route: Line['route']) => {
    for (const item of route) {
      if ('step' in item) {
        names.steps.push(item.step)
        if (resolveRecipe(item).batch?.dummies) names.dummies.push(item.step)
      } else if ('buffer' in item) {
        if (item.capacity !== 'unlimited' && item.capacity > 0) names.buffers.push(item.buffer)
      } else if ('carriers' in item) names.carriers.push(item.carriers)
      else if ('group' in item) for (const lane of laneRoutes(item as Group)) walk(lane.route)
    }
  }
  walk(line.route)
  return names
}

/** A line that speaks of money but leaves some of it out gets a hint for `payback`. */
export function warnOfMoney(line: Line): Problem[] {
  if (!line.money) return []
  const missing = missingMoney(line)
  if (missing.length === 0) return []
  return [
    problemAt(
      ['money'],
      missing.join('; '),
      'what payback asks for',
      'changes without a price are tried all the same, and shown with what they would be worth',
    ),
  ]
}
