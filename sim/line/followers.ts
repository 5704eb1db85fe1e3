import { quoted } from '../base/problems.ts'
import { allPlaces, isStore, type Place } from './outline.ts'
import type { Item, Step } from './types.ts'

/** What a tool hands its wafers to. */
export interface Follower {
  /** Wafers it can hold for the tool. */
  readonly places: number
  /** With what stands behind a hand-over, which is emptied into it at once. */
  readonly drains?: number
  /** `in "store"`, `where the lanes of "print" join`. */
  readonly where: string
}

const OUT_OF_THE_LINE: Follower = { places: Infinity, where: 'at the end of the line' }

/**
 * What stands behind each item of a route: the first store there, or a hand-over. Where
 * lanes split or join, and before a step to which wafers come back, one wafer at a time
 * is handed over; tools right behind take as many as there are tools. Missing where an
 * item could not be read.
 */
export function followersOf(route: readonly Place[]): ReadonlyMap<Place, Follower> {
  const followers = new Map<Place, Follower>()
  const targets = new Set(
    allPlaces(route).flatMap(({ item }) =>
      item && 'step' in item && item.rework && !repeats(item) ? [item.rework.to] : [],
    ),
  )
  walk(route, OUT_OF_THE_LINE)
  return followers

  function walk(part: readonly Place[], after: Follower): void {
    part.forEach((place, index) => {
      const follower = followerOf(part.slice(index + 1), after)
      if (follower) followers.set(place, follower)
      const join =
        follower === OUT_OF_THE_LINE
          ? follower
          : { places: 1, where: `where the lanes of ${quoted(place.name ?? '')} join` }
      for (const lane of place.lanes) walk(lane.route, join)
    })
  }

  function followerOf(rest: readonly Place[], after: Follower): Follower | undefined {
    const end = rest.findIndex(({ kind }) => !isStore(kind))
    const stores = end < 0 ? rest : rest.slice(0, end)
    const consumer = rest[stores.length]
    if ([...stores, ...(consumer ? [consumer] : [])].some(({ item }) => item === undefined)) return
    const comesBack = consumer?.name !== undefined && targets.has(consumer.name)
    // Wafers that come back join in front of the last store.
    const first = comesBack ? stores.slice(0, -1)[0] : stores[0]
    const placesOfFirst = first?.item ? placesIn(first.item) : 0
    if (first && placesOfFirst > 0) return { places: placesOfFirst, where: `in ${quoted(first.name ?? '')}` }
    if (comesBack) {
      const last = stores.at(-1)?.item
      const drains = last ? placesIn(last) : 0
      const where = `on the way back into ${quoted(consumer.name ?? '')}`
      return { places: doorPlaces(drains), drains, where }
    }
    return consumer ? handOverTo(consumer) : after
  }
}

function placesIn(item: Item): number {
  if ('carriers' in item) return item.holds * item.number
  if (!('capacity' in item)) return 0
  return item.capacity === 'unlimited' ? Infinity : item.capacity
}

/** A single-wafer tool that reworks its own wafers does them again at once: nothing comes back before it. */
function repeats({ step, rework, belt, batch }: Step): boolean {
  return rework?.to === step && !belt && !batch
}

/** Before a large buffer the hand-over has some of its places: a quarter, 64 at most. */
function doorPlaces(capacity: number): number {
  return capacity === Infinity ? 1 : Math.max(1, Math.min(64, Math.floor(capacity / 4)))
}

function handOverTo({ item, name = '' }: Place): Follower {
  if (item && 'step' in item) return { places: item.tools ?? 1, where: `in the tools of ${quoted(name)}` }
  return { places: 1, where: `before the lanes of ${quoted(name)}` }
}
