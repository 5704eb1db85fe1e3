import { quantity } from '../../base/quantity.ts'
import { describeChanges } from '../../line/describe.ts'
import { copiesOf } from '../../line/items.ts'
import type { Line, Money, Outlay } from '../../line/types.ts'
import { applyChanges } from '../../line/vary.ts'
import {
  buffersOf,
  carriersOf,
  equalGroups,
  scaleTimes,
  stepsOf,
  toolsOf,
  withCapacity,
  withCarriers,
  withHeads,
  withLanes,
  withStop,
  withTools,
  withVehicles,
} from '../designs/changes.ts'
import { outlayBetween } from '../designs/cost.ts'
import { times } from '../designs/pricing.ts'
import type { SeenStop } from '../designs/worst-stops.ts'

export type ChangeKind = 'tool' | 'lane' | 'buffer' | 'carrier' | 'vehicle' | 'head' | 'repair' | 'variant'

/** A change that payback tries. */
export interface Change {
  readonly name: string
  /** What it changes, as `size` and `losses --vary` name it: `print: tools`; the first is told to people. */
  readonly called: readonly string[]
  readonly kind: ChangeKind
  /** Makes it on any line that has the item, so that two can be made together. */
  readonly apply: (line: Line) => Line
  /** What it costs; undefined when the scenario does not say. */
  readonly outlay: Outlay | undefined
  /** In words, one change each. */
  readonly changes: readonly string[]
}

/** By how much repairs are shortened when the scenario does not say. */
const SHORTER = 0.25

/** Everything that payback tries on a line. */
export function changesToTry(line: Line, money: Money, stops: readonly SeenStop[]): Change[] {
  const made = [
    ...[...tools(line), ...lanes(line), ...buffers(line)],
    ...[...carriers(line), ...vehicles(line), ...heads(line)],
  ].map(change => ({
    ...change,
    outlay: outlayBetween(line, change.apply(line), money),
  }))
  const proposed = [...made, ...repairs(line, money, stops)]
  const taken = proposed.map(({ name }) => name)
  return [...proposed, ...variants(line, money, taken)].map(change => ({
    ...change,
    changes: describeChanges(line, change.apply(line)),
  }))
}

type Made = Omit<Change, 'outlay' | 'changes'>

function tools(line: Line): Made[] {
  const copies = copiesOf(line.route)
  const nameOf = (step: string, count: number) =>
    count > 1 ? `${count} more tools of ${step}, one in each lane` : `one more tool of ${step}`
  return stepsOf(line).map(({ step }) => ({
    name: nameOf(step, copies.get(step) ?? 1),
    called: [`${step}: tools`],
    kind: 'tool',
    apply: changed => {
      const found = stepsOf(changed).find(one => one.step === step)
      return found === undefined ? changed : withTools(changed, found, toolsOf(found) + 1)
    },
  }))
}

/** What is there in several lanes is changed, and paid for, in each of them. */
function inLanes(count = 1): string {
  return count > 1 ? `, in each of ${count} lanes` : ''
}

function lanes(line: Line): Made[] {
  return equalGroups(line).map(({ group }) => ({
    name: `one more lane of ${group}`,
    called: [`${group}: lanes`],
    kind: 'lane',
    apply: changed => {
      const found = equalGroups(changed).find(one => one.group === group)
      return found === undefined ? changed : withLanes(changed, found, found.lanes.length + 1)
    },
  }))
}

/** The next of the sizes that the scenario lists, else the double. Direct hand-over has no next size. */
function buffers(line: Line): Made[] {
  const copies = copiesOf(line.route)
  return buffersOf(line).flatMap(({ buffer, capacity }) => {
    const next = line.sizing?.buffers?.[buffer]?.find(size => size > capacity) ?? 2 * capacity
    if (next === 0) return []
    return [
      {
        name: `${buffer} for ${next} wafers${inLanes(copies.get(buffer))}`,
        called: [`${buffer}: capacity`],
        kind: 'buffer' as const,
        apply: (changed: Line) => withCapacity(changed, buffer, next),
      },
    ]
  })
}

function carriers(line: Line): Made[] {
  const copies = copiesOf(line.route)
  return carriersOf(line).map(({ carriers: name }) => ({
    name: `one more of ${name}${inLanes(copies.get(name))}`,
    called: [`${name}: number`],
    kind: 'carrier',
    apply: changed => {
      const found = carriersOf(changed).find(one => one.carriers === name)
      return found === undefined ? changed : withCarriers(changed, name, found.number + 1)
    },
  }))
}

function vehicles(line: Line): Made[] {
  return Object.keys(line.fleets ?? {}).map(fleet => ({
    name: `one more vehicle in ${fleet}`,
    called: [`fleet ${fleet}: number`, `${fleet}: number`],
    kind: 'vehicle',
    apply: changed => withVehicles(changed, fleet, (changed.fleets?.[fleet].number ?? 0) + 1),
  }))
}

function heads(line: Line): Made[] {
  return Object.keys(line.crews ?? {}).map(crew => ({
    name: `one more head in ${crew}`,
    called: [`crew ${crew}: heads`, `${crew}: heads`],
    kind: 'head',
    apply: changed => withHeads(changed, crew, n => n + 1),
  }))
}

function repairs(line: Line, money: Money, stops: readonly SeenStop[]): Omit<Change, 'changes'>[] {
  const { fasterRepair } = money
  const by = fasterRepair === undefined ? SHORTER : quantity('share', fasterRepair.shorterBy)
  const copies = copiesOf(line.route)
  return stops.map(({ step, stop }) => ({
    name: `${stop.stop} at ${step} shorter by ${Math.round(by * 1000) / 10} %${inLanes(copies.get(step))}`,
    called: [`stop ${stop.stop}: lasts`, `${step}: stop ${stop.stop}: lasts`],
    kind: 'repair',
    apply: changed => withStop(changed, step, stop.stop, { lasts: scaleTimes(stop.lasts, 1 - by) }),
    outlay: times(fasterRepair, copies.get(step) ?? 1),
  }))
}

/** Under their own names, unless one is called as a change that is proposed. */
function variants(line: Line, money: Money, taken: readonly string[]): Omit<Change, 'changes'>[] {
  return Object.entries(line.variants ?? {}).map(([name, variant]) => ({
    name: taken.includes(name) ? `variant "${name}"` : name,
    called: [`variant ${name}`],
    kind: 'variant',
    apply: changed => applyChanges(changed, variant),
    outlay: money.variants?.[name],
  }))
}
