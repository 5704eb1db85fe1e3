import { isPlainObject } from '../../base/plain.ts'
import { allItems } from '../../line/items.ts'
import { resolvedLine, resolveRecipe } from '../../line/recipes.ts'
import type { Buffer, Carriers, Group, Line, Step, Variant } from '../../line/types.ts'
import { applyChanges } from '../../line/vary.ts'

/** Changes of a line that the studies try. Each gives a new line; the old one stays as it is. */

/** Every step of the line once, lanes included, in the order of the file. */
export function stepsOf(line: Line): Step[] {
  return oncePerName(
    allItems(line.route).filter(item => 'step' in item),
    step => step.step,
  )
}

/** Every buffer that has a number of places, once. */
export function buffersOf(line: Line): (Buffer & { readonly capacity: number })[] {
  const buffers = allItems(line.route).filter(
    (item): item is Buffer & { capacity: number } => 'buffer' in item && typeof item.capacity === 'number',
  )
  return oncePerName(buffers, buffer => buffer.buffer)
}

/** All carriers that go between two places, once. */
export function carriersOf(line: Line): Carriers[] {
  const carriers = allItems(line.route).filter(item => 'carriers' in item)
  return oncePerName(carriers, item => item.carriers)
}

export function withCarriers(line: Line, carriers: string, number: number): Line {
  return applyChanges(line, { [carriers]: { number } })
}

/** A fleet with this many vehicles. */
export function withVehicles(line: Line, fleet: string, number: number): Line {
  return applyChanges(line, { line: { fleets: { [fleet]: { number } } } })
}

/** Groups of equal lanes. */
export function equalGroups(line: Line): (Group & { readonly lanes: readonly string[] })[] {
  const groups = allItems(line.route).filter(
    (item): item is Group & { lanes: readonly string[] } => 'group' in item && Array.isArray(item.lanes),
  )
  return oncePerName(groups, group => group.group)
}

function oncePerName<T>(things: readonly T[], name: (thing: T) => string): T[] {
  return [...new Map(things.map(thing => [name(thing), thing])).values()]
}

/** Tools of a step, in each lane that has it. */
export function toolsOf({ tools, cycles }: Step): number {
  return tools ?? cycles?.length ?? 1
}

/**
 * The step with this many tools; where each has an entry of its own in a list, it gets more like its
 * last, or loses the last. The number stands beside the list: it is what counts, and what is paid for.
 */
export function withTools(line: Line, { step, cycles, stops = [] }: Step, tools: number): Line {
  const sized = <T>(list: readonly T[]) =>
    Array.from({ length: tools }, (_, i) => list[Math.min(i, list.length - 1)])
  const listed = stops.flatMap(({ stop, first }) =>
    Array.isArray(first) ? [[stop, { first: sized(first) }] as const] : [],
  )
  return applyChanges(line, {
    [step]: {
      tools,
      ...(cycles && { cycles: sized(cycles) }),
      ...(listed.length > 0 && { stops: Object.fromEntries(listed) }),
    },
  })
}

export function withCapacity(line: Line, buffer: string, capacity: number | 'unlimited'): Line {
  return applyChanges(line, { [buffer]: { capacity } })
}

/** A group with this many equal lanes; new ones are called by the next free numbers. */
export function withLanes(line: Line, group: Group, count: number): Line {
  const names = [...(group.lanes as readonly string[])].slice(0, count)
  for (let number = 1; names.length < count; number++) {
    const fresh = `lane ${number}`
    if (!names.includes(fresh)) names.push(fresh)
  }
  return applyChanges(line, { [group.group]: { lanes: names } })
}

/** A stop of a step changed key by key; null takes it away. */
export function withStop(line: Line, step: string, stop: string, fields: Variant[string] | null): Line {
  return applyChanges(line, { [step]: { stops: { [stop]: fields } } })
}

/** A crew with this many heads on duty, or more in every shift that has any. */
export function withHeads(line: Line, crew: string, change: (heads: number) => number): Line {
  const { crews = {} } = line
  const { heads } = crews[crew]
  const changed =
    typeof heads === 'number'
      ? change(heads)
      : Object.fromEntries(Object.entries(heads).map(([shift, n]) => [shift, n > 0 ? change(n) : n]))
  return { ...line, crews: { ...crews, [crew]: { ...crews[crew], heads: changed } } }
}

/**
 * The step faster by a factor: cycle times, belts and loads take 1 / factor of their time.
 * It is the step as it runs that gets faster: a recipe would override what is changed under it.
 */
export function withSpeed(line: Line, given: Step, factor: number): Line {
  const step = resolveRecipe(given)
  const shorter = (value: unknown) => scaleTimes(value, 1 / factor)
  const fields: Record<string, unknown> = {}
  if (step.cycle !== undefined) fields.cycle = shorter(step.cycle)
  if (step.cycles !== undefined) fields.cycles = shorter(step.cycles)
  if (step.belt) {
    const { spacing, transit, speed } = step.belt
    fields.belt = {
      ...(spacing === undefined ? {} : { spacing: shorter(spacing) }),
      ...(transit === undefined ? {} : { transit: shorter(transit) }),
      ...(speed === undefined ? {} : { speed: scaleQuantity(speed, factor) }),
    }
  }
  if (step.batch) {
    const { time, loading, unloading } = step.batch
    fields.batch = {
      time: shorter(time),
      ...(loading === undefined ? {} : { loading: shorter(loading) }),
      ...(unloading === undefined ? {} : { unloading: shorter(unloading) }),
    }
  }
  return applyChanges(resolvedLine(line), { [step.step]: fields })
}

/** All times of a value or a distribution of times, multiplied; its shape stays. */
export function scaleTimes(value: unknown, factor: number): unknown {
  if (typeof value === 'string') return scaleQuantity(value, factor)
  if (Array.isArray(value)) return value.map(part => scaleTimes(part, factor))
  if (!isPlainObject(value)) return value
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, scaleTimes(part, factor)]))
}

/** `"1.2 s"` times 0.5 is `"0.6 s"`: to ten digits, so that a time stays on its tick. */
function scaleQuantity(text: string, factor: number): string {
  const [figure, unit] = text.split(' ')
  return `${Number((Number(figure) * factor).toPrecision(10))} ${unit}`
}
