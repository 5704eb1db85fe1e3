import { nearest } from '../../base/nearest.ts'
import { quoted, wordList } from '../../base/problems.ts'
import { allItems } from '../../line/items.ts'
import type { Line } from '../../line/types.ts'
import { applyChanges } from '../../line/vary.ts'
import {
  buffersOf,
  carriersOf,
  equalGroups,
  stepsOf,
  toolsOf,
  withCapacity,
  withCarriers,
  withLanes,
  withSpeed,
  withTools,
  withVehicles,
} from '../designs/changes.ts'
import type { Varied } from './curve.ts'

/** A number of an item that a curve may be drawn over. */
type Quantity = Omit<Varied, 'what'>

/** All that can be varied of the items of a line, by how it is asked for: the item, then the key, as in `print: tools`. */
function quantitiesOf(line: Line): ReadonlyMap<string, Quantity> {
  const all = new Map<string, Quantity>()
  const add = (what: string, unit: Varied['unit'], now: number, at: Varied['at']) =>
    all.set(what, { unit, now, at })
  for (const step of stepsOf(line)) {
    add(`${step.step}: tools`, 'tools', toolsOf(step), tools => withTools(line, step, tools))
    add(`${step.step}: speed`, '% of now', 100, percent => withSpeed(line, step, percent / 100))
  }
  add('all steps: speed', '% of now', 100, percent =>
    stepsOf(line).reduce((made, step) => withSpeed(made, step, percent / 100), line),
  )
  for (const { buffer, capacity } of buffersOf(line))
    add(`${buffer}: capacity`, 'wafers', capacity, wafers => withCapacity(line, buffer, wafers))
  for (const item of allItems(line.route))
    if ('conveyor' in item)
      add(`${item.conveyor}: capacity`, 'wafers', item.capacity, capacity =>
        applyChanges(line, { [item.conveyor]: { capacity } }),
      )
  for (const { carriers, number } of carriersOf(line))
    add(`${carriers}: number`, 'carriers', number, count => withCarriers(line, carriers, count))
  for (const group of equalGroups(line))
    add(`${group.group}: lanes`, 'lanes', group.lanes.length, lanes => withLanes(line, group, lanes))
  for (const [name, fleet] of Object.entries(line.fleets ?? {}))
    add(`fleet ${name}: number`, 'vehicles', fleet.number, count => withVehicles(line, name, count))
  const { cap } = line
  if (cap) add('cap: wafers', 'wafers', cap.wafers, wafers => ({ ...line, cap: { ...cap, wafers } }))
  return all
}

/**
 * Finds a number of an item that `--vary` names: `STEP: tools`, `STEP: speed` and `all steps: speed` (in
 * per cent of now), `BUFFER: capacity`, `CONVEYOR: capacity`, `CARRIERS: number`, `GROUP: lanes`, `fleet
 * NAME: number`, `cap: wafers`.
 *
 * @returns a text that says what is wrong with it otherwise
 */
export function itemVaried(line: Line, what: string): Varied | string {
  const quantities = quantitiesOf(line)
  const found = quantities.get(what)
  if (found) return { what, ...found }
  const near = nearest(what, [...quantities.keys()])
  if (near !== undefined) return `something of the line; did you mean ${quoted(near)}?`
  const key = what.split(': ').at(-1)
  const same = [...quantities.keys()].filter(name => name.endsWith(`: ${key}`)).map(quoted)
  return same.length > 0
    ? wordList(same, 'or')
    : 'something such as "stop jam: lasts", "stop jam: every", "crew technicians: heads", "print: tools", "print: speed", "rack: capacity" or "cassettes: number"'
}
