import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatQuantity, quantity } from '../base/quantity.ts'
import { closedSpans, openStretches } from './calendar.ts'
import { meanTime } from './means.ts'
import { allPlaces, type Place } from './outline.ts'
import { beltContent, beltPace, pacesOf } from './pace.ts'
import { upTime } from './stop-times.ts'
import type { Item, Line, Step, Stop } from './types.ts'

/** Probable mistakes in time limits, waiting stops, boats, carriers, hidden defects, the cap and the calendar. */
export function warningsOfRules(line: Line, route: readonly Place[]): Problem[] {
  const places = allPlaces(route)
  return [
    ...places.flatMap(place =>
      place.item && 'step' in place.item ? warnOfStep(place.item, place, route) : [],
    ),
    ...warnOfCarriers(route),
    ...warnOfDefects(places),
    ...warnOfCap(line, route),
    ...warnOfRunDown(line),
  ]
}

function warnOfStep(step: Step, { path }: Place, route: readonly Place[]): Problem[] {
  return [
    ...warnOfLimits(step, path, route),
    ...warnOfBoats(step, path),
    ...(step.stops ?? []).flatMap((stop, index) =>
      warnOfWaiting(step, stop, [...path, 'stops', index, { name: stop.stop }]),
    ),
  ]
}

/** A limit that is shorter than the way makes every wafer late. */
function warnOfLimits({ step, timeLimits = [] }: Step, path: Path, route: readonly Place[]): Problem[] {
  return timeLimits.flatMap(({ after, atMost }, index) => {
    const way = wayBetween(route, after, step)
    if (way === undefined || way <= quantity('time', atMost)) return []
    const expected = `more than the way from ${quoted(after)} to here takes, ${formatQuantity('time', way)}`
    return [
      problemAt([...path, 'timeLimits', index, 'atMost'], quoted(atMost), expected, 'every wafer is late'),
    ]
  })
}

/**
 * Time from leaving one step to arriving at another, without any waiting, on the quickest
 * way through lanes [s]; undefined when none leads there.
 */
function wayBetween(route: readonly Place[], from: string, to: string): number | undefined {
  let found: number | undefined
  walk(route, undefined)
  return found

  /** @param since time since leaving `from`; undefined before it */
  function walk(part: readonly Place[], since: number | undefined): number | undefined {
    let time = since
    for (const { name, item, lanes } of part) {
      if (name === to && time !== undefined) found = Math.min(found ?? Infinity, time)
      if (name === from) time = 0
      else if (lanes.length > 0) {
        const ends = lanes.map(lane => walk(lane.route, time)).filter(end => end !== undefined)
        time = ends.length > 0 ? Math.min(...ends) : undefined
      } else if (time !== undefined && item) time += timeWithin(item)
    }
    return time
  }
}

/** Mean time that a wafer must spend in an item [s]. */
function timeWithin(item: Item): number {
  if ('carriers' in item) return meanTime(item.moved.takes)
  if ('conveyor' in item) return quantity('time', item.transit)
  if ('buffer' in item) return quantity('time', item.leastDwell ?? '0 s')
  if (!('step' in item)) return 0
  if (item.belt) return beltPace(item.belt).transit
  return Math.min(...pacesOf(item).map(({ cycle }) => cycle))
}

function warnOfBoats({ batch }: Step, path: Path): Problem[] {
  const { boats, tubes = 1 } = batch ?? {}
  if (!boats || boats.perTool >= tubes) return []
  const where = [...path, 'batch', 'boats', 'perTool']
  return [
    problemAt(
      where,
      String(boats.perTool),
      `at least one for each tube, ${tubes}`,
      'the other tubes never work',
    ),
  ]
}

/** Put off for longer than it takes to be due again, by the clock: other stops count from the end of the one before. */
function warnOfWaiting(step: Step, stop: Stop, path: Path): Problem[] {
  if (!stop.waits || !stop.at) return []
  const up = Math.max(...pacesOf(step).map(pace => upTime(stop, pace)))
  if (quantity('time', stop.waits.atMost) <= up) return []
  const expected = `at most the time from one to the next, ${formatQuantity('time', up)}`
  return [
    problemAt([...path, 'waits', 'atMost'], quoted(stop.waits.atMost), expected, 'it is due again before'),
  ]
}

/** All carriers together should hold what the tool behind takes at a time. */
function warnOfCarriers(route: readonly Place[]): Problem[] {
  return route.flatMap(({ item, path, lanes }, index) => {
    const inner = lanes.flatMap(lane => warnOfCarriers(lane.route))
    if (!item || !('carriers' in item)) return inner
    const tool = route.slice(index + 1).find(({ kind }) => kind === 'step' || kind === 'group')?.item
    const load = tool && 'step' in tool ? (tool.batch?.load ?? 0) : 0
    if (item.holds * item.number >= load) return inner
    const hint = `${quoted(tool && 'step' in tool ? tool.step : '')} takes loads of ${load}`
    const expected = `at least ${Math.ceil(load / item.holds)}, which hold a load`
    return [...inner, problemAt([...path, 'number'], String(item.number), expected, hint)]
  })
}

/** Hidden defects that no later test looks for change nothing. */
function warnOfDefects(places: readonly Place[]): Problem[] {
  const last = places.findLastIndex(({ item }) => item && 'step' in item && item.test)
  return places.slice(last + 1).flatMap(({ item, path }) => {
    if (!item || !('step' in item)) return []
    const { defects, drift, stops = [] } = item
    const where: Path[] = [
      ...(defects === undefined ? [] : [['defects']]),
      ...(drift?.defects === undefined ? [] : [['drift', 'defects']]),
      ...stops.flatMap(({ stop, overdue }, index) =>
        overdue === undefined ? [] : [['stops', index, { name: stop }, 'overdue']],
      ),
    ]
    return where.map(part =>
      problemAt([...path, ...part], 'hidden defects', 'a step with test behind it', 'nobody ever finds them'),
    )
  })
}

/** A cap below what the tools hold keeps some of them empty at all times. */
function warnOfCap({ cap }: Line, route: readonly Place[]): Problem[] {
  if (!cap) return []
  const inside = contentBefore(route, cap.until).wafers
  if (cap.wafers >= inside) return []
  const hint = `so many are inside the tools${cap.until === undefined ? '' : ` before ${quoted(cap.until)}`} when all of them work`
  return [problemAt(['cap', 'wafers'], String(cap.wafers), `at least ${inside}`, hint)]
}

/** Wafers inside all tools before a step, or in the whole line. */
function contentBefore(
  route: readonly Place[],
  until: string | undefined,
  lanes = 1,
): { wafers: number; reached: boolean } {
  let wafers = 0
  for (const { name, item, lanes: inner } of route) {
    if (name !== undefined && name === until) return { wafers, reached: true }
    if (item && 'step' in item) wafers += lanes * contentOf(item)
    const parts = inner.map(lane => contentBefore(lane.route, until, lanes * lane.names.length))
    wafers += parts.reduce((sum, part) => sum + part.wafers, 0)
    if (parts.some(part => part.reached)) return { wafers, reached: true }
  }
  return { wafers, reached: false }
}

function contentOf({ tools = 1, belt, batch }: Step): number {
  if (batch) return tools * (batch.tubes ?? 1) * batch.load
  return tools * (belt ? beltContent(belt) : 1)
}

function warnOfRunDown({ calendar }: Line): Problem[] {
  if (calendar?.runDown === undefined || quantity('time', calendar.runDown) === 0) return []
  const path = ['calendar', 'runDown']
  const found = quoted(calendar.runDown)
  if (closedSpans(calendar).length === 0)
    return [problemAt(path, found, 'a time at which the line is closed', 'it never runs down')]
  const shortest = Math.min(...openStretches(calendar))
  if (quantity('time', calendar.runDown) < shortest) return []
  const expected = `less than the shortest time for which the line is open, ${formatQuantity('time', shortest)}`
  return [problemAt(path, found, expected, 'no wafers enter then')]
}
