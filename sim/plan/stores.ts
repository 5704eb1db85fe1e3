import type { Buffer, Carriers, Conveyor } from '../line/types.ts'
import { ticks } from './laws.ts'
import type { PlaceList } from './places.ts'
import type { ChannelPlan } from './plan.ts'

/** Between two stations: what a producer puts into, still without its consumer. */
export type Store = Buffer | Conveyor | Carriers

export function storeName(store: Store): string {
  if ('carriers' in store) return store.carriers
  return 'buffer' in store ? store.buffer : store.conveyor
}

/** What a store is to the channel through it; its place is added. */
export function storeChannel(
  store: Store,
  places: PlaceList,
): Pick<ChannelPlan, 'place' | 'capacity' | 'delay' | 'lifo'> {
  if ('carriers' in store) {
    const place = places.add(store.carriers, 'carriers', 0)
    return { place, capacity: store.holds * store.number, delay: 0, lifo: false }
  }
  if ('conveyor' in store) {
    const place = places.add(store.conveyor, 'conveyor', store.capacity)
    return { place, capacity: store.capacity, delay: ticks(store.transit), lifo: false }
  }
  const capacity = store.capacity === 'unlimited' ? Infinity : store.capacity
  const place = places.add(store.buffer, 'buffer', capacity)
  const delay = store.leastDwell === undefined ? 0 : ticks(store.leastDwell)
  return { place, capacity, delay, lifo: store.order === 'last in, first out' }
}
