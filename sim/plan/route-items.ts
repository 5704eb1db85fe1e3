import type { Group, Item, Line, Route, Step } from '../line/types.ts'

/** Names of the lanes of a group, each with its route. */
export function lanesOf({ lanes, each }: Group): (readonly [string, Route])[] {
  return Array.isArray(lanes)
    ? (lanes as readonly string[]).map(name => [name, each as Route] as const)
    : Object.entries(lanes as Readonly<Record<string, Route>>)
}

/** All items of a route, those of equal lanes once; groups are replaced by what they hold. */
function itemsOf(route: Route): Exclude<Item, Group>[] {
  return route.flatMap((item): Exclude<Item, Group>[] => {
    if (!('group' in item)) return [item]
    return Array.isArray(item.lanes)
      ? itemsOf(item.each as Route)
      : Object.values(item.lanes as Record<string, Route>).flatMap(itemsOf)
  })
}

/** All steps of a route, those of equal lanes once. */
export function allSteps(route: Route): Step[] {
  return itemsOf(route).flatMap(item => ('step' in item ? [item] : []))
}

/** Steps to which wafers come back from this one. */
export function backTo(step: Step): string[] {
  const late = (step.timeLimits ?? []).flatMap(({ late }) =>
    typeof late === 'object' && 'to' in late ? [late.to] : [],
  )
  return step.rework && !repeats(step) ? [step.rework.to, ...late] : late
}

/** Whether anything in the line calls for people or vehicles. */
export function callsPeople({ route, bins }: Line): boolean {
  if (bins?.boxes?.swap.skill !== undefined) return true
  const carried = itemsOf(route).some(item => 'carriers' in item && item.moved.by !== undefined)
  return carried || allSteps(route).some(callsFor)
}

function callsFor({ stops, breakage }: Step): boolean {
  const clearing = typeof breakage === 'object' ? breakage.clearing : undefined
  return clearing?.skill !== undefined || (stops ?? []).some(stop => stop.skill !== undefined)
}

/** A single-wafer tool whose rework leads to its own step does the wafer again at once. */
export function repeats(step: Step): boolean {
  return step.rework?.to === step.step && !step.belt && !step.batch
}
