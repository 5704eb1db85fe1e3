import { isPlainObject } from '../base/plain.ts'
import { type Path, type Problem, problemAt, quoted } from '../base/problems.ts'
import { formatQuantity, quantity } from '../base/quantity.ts'
import { openShare } from './calendar.ts'
import { paperUse } from './capacity.ts'
import type { Follower } from './followers.ts'
import { meanTime } from './means.ts'
import { allPlaces, type Place } from './outline.ts'
import { beltContent } from './pace.ts'
import type { Belt, Buffer, Carriers, Conveyor, Line } from './types.ts'

/** Probable mistakes in what stands between the tools. */
export function warningsOfPlaces(
  line: Line,
  route: readonly Place[],
  followers: ReadonlyMap<Place, Follower>,
): Problem[] {
  const between = allPlaces(route).flatMap(place => warnOfHandOver(place, followers.get(place)))
  return [...between, ...warnOfStores(route, wantedOf(line))]
}

/** What must get through the line while it is open [wafers/s], and how that is said. Asked for only where something stays a while. */
type Wanted = () => { readonly rate: number; readonly said: string }

/** The target; without one, what the tools could make on paper, but for rounding. */
function wantedOf(line: Line): Wanted {
  let known: ReturnType<Wanted> | undefined
  return () => {
    known ??=
      line.target === undefined ? byTools(line) : { rate: quantity('rate', line.target), said: 'the target' }
    return known
  }
}

function byTools(line: Line): ReturnType<Wanted> {
  const rate = paperUse(line).good / openShare(line.calendar)
  return { rate: Number.isFinite(rate) ? rate : 0, said: 'what the tools could make' }
}

const NOTHING: Wanted = () => ({ rate: 0, said: '' })

function warnOfHandOver(place: Place, follower: Follower | undefined): Problem[] {
  if (!follower || !place.item || !('step' in place.item)) return []
  const { belt, batch, tools = 1 } = place.item
  if (belt) return warnOfBelt(place, belt, tools, follower)
  if (!batch || Math.max(follower.places, follower.drains ?? 0) >= batch.load) return []
  const expected = `places for a load behind it; ${follower.where}: ${follower.places}`
  return [
    problemAt(
      [...place.path, 'batch', 'load'],
      String(batch.load),
      expected,
      'a tube is held until the last wafer of its load has been taken',
    ),
  ]
}

/** A belt that keeps a place free for every wafer inside never fills when there are fewer places. */
function warnOfBelt({ path }: Place, belt: Belt, tools: number, follower: Follower): Problem[] {
  if (belt.whenFull === 'stop' || belt.keepFree !== undefined) return []
  const content = beltContent(belt) * tools
  if (content <= follower.places) return []
  const expected = `a place behind for each of them; ${follower.where}: ${follower.places}`
  return [
    problemAt(
      [...path, 'belt'],
      `${content} wafers on the full belt`,
      expected,
      'so it runs out early and is fed more slowly than its spacing allows',
    ),
  ]
}

/** A store where each wafer stays a while passes capacity / stay at most (Little's law). */
function warnOfStores(route: readonly Place[], wanted: Wanted, lanes = 1): Problem[] {
  return route.flatMap(({ item, path, lanes: inner }) => {
    if (item && 'carriers' in item) return warnOfRounds(item, path, wanted, lanes)
    if (item && 'capacity' in item) return warnOfStore(item, path, wanted, lanes)
    // Lanes of their own share the flow in a way that is not known here.
    const own = item && 'group' in item && isPlainObject(item.lanes) && inner.length > 1
    return inner.flatMap(lane => warnOfStores(lane.route, own ? NOTHING : wanted, lanes * lane.names.length))
  })
}

function warnOfStore(store: Buffer | Conveyor, path: Path, wanted: Wanted, lanes: number): Problem[] {
  const stay = 'conveyor' in store ? store.transit : store.leastDwell
  if (stay === undefined || store.capacity === 'unlimited' || quantity('time', stay) === 0) return []
  const most = (lanes * store.capacity) / quantity('time', stay)
  const { rate, said } = wanted()
  if (most >= rate * (1 - 1e-9)) return []
  const found = `${store.capacity} places for ${quoted(stay)} each`
  const expected = `room for ${said}, ${formatQuantity('rate', rate)}`
  return [
    problemAt([...path, 'capacity'], found, expected, `it passes at most ${formatQuantity('rate', most)}`),
  ]
}

/** Carriers bring at most what all of them hold in the time of one round (Little's law). */
function warnOfRounds(
  { holds, number, moved, back = '0 s', cleaning, breakage }: Carriers,
  path: Path,
  wanted: Wanted,
  lanes: number,
): Problem[] {
  const broken = breakage ? quantity('share', breakage.share) : 0
  const replacing = broken * meanTime(breakage?.replacedAfter ?? '0 s')
  const washing = cleaning ? ((1 - broken) * meanTime(cleaning.lasts)) / cleaning.every : 0
  const round = meanTime(moved.takes) + quantity('time', back) + replacing + washing
  if (round === 0) return []
  const most = (lanes * holds * number) / round
  const { rate, said } = wanted()
  if (most >= rate * (1 - 1e-9)) return []
  const found = `${number} carriers, ${formatQuantity('time', round)} there and back`
  const expected = `enough for ${said}, ${formatQuantity('rate', rate)}`
  return [
    problemAt([...path, 'number'], found, expected, `they bring at most ${formatQuantity('rate', most)}`),
  ]
}
